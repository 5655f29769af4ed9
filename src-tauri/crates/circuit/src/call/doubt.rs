//! Readings that don't go together.

use crate::answer::doubt::{Doubt, DoubtCode};
use crate::file::observation::Observation;
use crate::weigh::posterior::{Hypothesis, Posterior};
use crate::weigh::row_set::RowSet;
use crate::weigh::rows::Row;

/// Contradictions between readings, named as pairs; then what is left.
pub(crate) fn doubts_of(posterior: &Posterior, rows: &[Row], observations: &[Observation]) -> Vec<Doubt> {
    let outvoted = outvoted(posterior, rows);
    let seen: Vec<(usize, &str)> = rows
        .iter()
        .enumerate()
        .filter(|(i, _)| !outvoted.contains(i))
        .filter_map(|(i, row)| Some((i, observations.get(row.observation?)?.id.as_str())))
        .collect();
    let given: Vec<usize> =
        (0..rows.len()).filter(|i| rows.get(*i).is_some_and(Row::is_the_complaint)).collect();
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

/// Rows that were taken again, leads placed anew, and lost: of the readings at their points the leading cause agrees
/// with more than it contradicts. They stay on record and in the odds; they raise no doubt any more.
fn outvoted(posterior: &Posterior, rows: &[Row]) -> Vec<usize> {
    let leading =
        posterior.hypotheses.iter().max_by(|left, right| left.posterior.total_cmp(&right.posterior));
    let Some(best) = leading.and_then(Hypothesis::best) else { return Vec::new() };
    let agrees = |row: usize| best.agrees.contains(row);
    let lost = |(i, row): &(usize, &Row)| {
        let same = |other: &&Row| other.same_look(row) && other.complaint == row.complaint;
        let all = rows.iter().filter(same).count();
        let with = rows.iter().enumerate().filter(|(j, other)| same(other) && agrees(*j)).count();
        !agrees(*i) && 2 * with > all
    };
    rows.iter().enumerate().filter(lost).map(|(i, _)| i).collect()
}

fn fits_rows(hypothesis: &Hypothesis, rows: &[usize]) -> bool {
    let wanted: RowSet = rows.iter().copied().collect();
    hypothesis.nodes.iter().any(|node| node.agrees.contains_all(&wanted))
}

/// Names the rows; the one that surviving causes explain worst is to be repeated first.
fn doubt(posterior: &Posterior, code: DoubtCode, rows: &[(usize, &str)]) -> Doubt {
    let misfit = |row: usize| -> f64 {
        let one = |hypothesis: &Hypothesis| {
            let off = hypothesis.nodes.iter().filter(|node| !node.agrees.contains(row));
            hypothesis.posterior * off.map(|node| node.share).sum::<f64>()
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
