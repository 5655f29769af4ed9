//! Readings that don't go together.

use crate::diagnosis::{Doubt, DoubtCode};
use crate::likelihood::{Fit, Row};
use crate::observation::Observation;
use crate::posterior::{Hypothesis, Posterior};

/// Contradictions between readings, named as pairs; then what is left.
pub(crate) fn doubts_of(posterior: &Posterior, rows: &[Row], observations: &[Observation]) -> Vec<Doubt> {
    let seen: Vec<(usize, &str)> = rows
        .iter()
        .enumerate()
        .filter_map(|(i, row)| Some((i, observations.get(row.observation?)?.id.as_str())))
        .collect();
    let given: Vec<usize> = (0..rows.len()).filter(|i| seen.iter().all(|(row, _)| row != i)).collect();
    let fits = |some: &[usize]| {
        let with: Vec<usize> = some.iter().chain(&given).copied().collect();
        posterior.hypotheses.iter().any(|hypothesis| fits_rows(hypothesis, &with))
    };
    if fits(&seen.iter().map(|(row, _)| *row).collect::<Vec<_>>()) {
        return Vec::new();
    }
    let mut doubts = Vec::new();
    for (row, id) in seen.iter().filter(|(row, _)| !fits(&[*row])) {
        doubts.push(doubt(posterior, DoubtCode::NotInThisCircuit, &[(*row, id)]));
    }
    let alone: Vec<(usize, &str)> = seen.iter().filter(|(row, _)| fits(&[*row])).copied().collect();
    for (i, left) in alone.iter().enumerate() {
        for right in alone.iter().skip(i + 1).filter(|right| !fits(&[left.0, right.0])) {
            doubts.push(doubt(posterior, DoubtCode::Contradiction, &[*left, *right]));
        }
    }
    if doubts.is_empty() {
        let without =
            |out: &usize| alone.iter().map(|(row, _)| *row).filter(|row| row != out).collect::<Vec<_>>();
        let suspects: Vec<(usize, &str)> =
            alone.iter().filter(|(row, _)| fits(&without(row))).copied().collect();
        let named = if suspects.is_empty() { alone } else { suspects };
        doubts.push(doubt(posterior, DoubtCode::NoCauseFitsAll, &named));
    }
    doubts
}

fn fits_rows(hypothesis: &Hypothesis, rows: &[usize]) -> bool {
    let at = |i: usize| {
        rows.iter().all(|row| hypothesis.fits.get(*row).and_then(|row| row.get(i)) == Some(&Fit::Yes))
    };
    (0..hypothesis.shares.len()).any(at)
}

/// Names the rows; the one that surviving causes explain worst is to be repeated first.
fn doubt(posterior: &Posterior, code: DoubtCode, rows: &[(usize, &str)]) -> Doubt {
    let misfit = |row: usize| -> f64 {
        let one = |hypothesis: &Hypothesis| {
            let fits = hypothesis.fits.get(row).into_iter().flatten();
            let off =
                fits.zip(&hypothesis.shares).filter(|(fits, _)| **fits != Fit::Yes).map(|(_, share)| share);
            hypothesis.posterior * off.sum::<f64>()
        };
        posterior.hypotheses.iter().map(one).sum()
    };
    let repeat = rows.iter().max_by(|left, right| misfit(left.0).total_cmp(&misfit(right.0)));
    Doubt {
        code,
        observations: rows.iter().map(|(_, id)| (*id).to_owned()).collect(),
        repeat: repeat.map(|(_, id)| (*id).to_owned()),
    }
}
