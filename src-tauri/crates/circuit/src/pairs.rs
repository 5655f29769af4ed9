//! Two faults at once, weighed only where no single cause fits: around the singles that survive best.
//!
//! Coarser than the single causes: five severities of the second fault, and a curve through five of the first that
//! doesn't look for the exact severity at which a relay moves.

use crate::cause::Cause;
use crate::curve::{Curve, Solved};
use crate::diagnosis::Options;
use crate::error::CircuitError;
use crate::likelihood::{Fit, Row, Scale};
use crate::model::Model;
use crate::posterior::{Hypothesis, Posterior, log_sum};

/// Singles that are paired.
const SURVIVORS: usize = 3;
/// Severities of the second fault that are tried.
const SECOND: usize = 5;
/// Solved severities of the first fault; the curve runs between them.
const FIRST: usize = 5;
/// Chance that a circuit with one fault has a second, independent one (judgement).
const SECOND_FAULT: f64 = 0.1;

/// A pair with its prior and the logarithm of its evidence.
pub(crate) struct Pair {
    pub causes: [usize; 2],
    pub prior: f64,
    pub log: f64,
}

/// Pairs around the best singles. Readings only where the complaint was present count fully; all are used.
pub(crate) fn pairs_of(
    model: &Model<'_>,
    rows: &[Row],
    posterior: &Posterior,
    options: &Options,
) -> Result<Vec<Pair>, CircuitError> {
    let mut steady: Vec<_> =
        posterior.hypotheses.iter().filter(|hypothesis| !hypothesis.comes_and_goes).collect();
    steady.sort_by(|left, right| right.posterior.total_cmp(&left.posterior));
    let mut pairs: Vec<Pair> = Vec::new();
    for first in steady.iter().take(SURVIVORS) {
        for second in &steady {
            let causes = [first.cause.min(second.cause), first.cause.max(second.cause)];
            let parts = causes.map(|cause| model.causes.get(cause).map(|cause| cause.part));
            let known = pairs.iter().any(|pair| pair.causes == causes);
            if parts.first() == parts.last() || known || !helps(first, second) {
                continue;
            }
            let prior = first.prior * second.prior * SECOND_FAULT;
            let log = evidence(model, rows, first.cause, second.cause, options)?;
            pairs.push(Pair { causes, prior, log });
        }
    }
    Ok(pairs)
}

/// Does the second fault, alone, explain a row that the first at its most probable severity doesn't?
fn helps(first: &Hypothesis, second: &Hypothesis) -> bool {
    let best =
        first.shares.iter().enumerate().max_by(|left, right| left.1.total_cmp(right.1)).map_or(0, |(i, _)| i);
    let rows = first.fits.iter().zip(&second.fits);
    rows.into_iter().any(|(first, second)| first.get(best) != Some(&Fit::Yes) && second.contains(&Fit::Yes))
}

fn evidence(
    model: &Model<'_>,
    rows: &[Row],
    first: usize,
    second: usize,
    options: &Options,
) -> Result<f64, CircuitError> {
    let (Some(first), Some(second)) = (model.causes.get(first), model.causes.get(second)) else {
        return Ok(f64::NEG_INFINITY);
    };
    let scale = Scale::new(model.meter, options);
    let columns: Vec<usize> = rows.iter().map(|row| row.column).collect();
    let mut logs = Vec::new();
    for index in spread(second.severities.len(), SECOND) {
        let curves = curves_of(model, &columns, first, second, index)?;
        for (i, severity) in first.severities.iter().enumerate().step_by(2) {
            let terms = rows.iter().zip(&curves);
            logs.push(
                terms.map(|(row, curve)| scale.likelihood(row, curve.at(i, *severity)).ln()).sum::<f64>(),
            );
        }
    }
    let count = f64::from(u32::try_from(logs.len().max(1)).unwrap_or(u32::MAX));
    Ok(log_sum(logs.iter().copied()) - count.ln())
}

fn curves_of(
    model: &Model<'_>,
    columns: &[usize],
    first: &Cause,
    second: &Cause,
    index: usize,
) -> Result<Vec<Curve>, CircuitError> {
    let mut solved: Vec<Vec<Solved>> = vec![Vec::new(); columns.len()];
    for i in spread(first.severities.len(), FIRST) {
        let predicted = model.with_faults(columns, &[first.failing(i), second.failing(index)])?;
        let severity = first.severities.get(i).copied().unwrap_or(0.0);
        for (list, predicted) in solved.iter_mut().zip(predicted) {
            list.push(Solved { index: i, severity, predicted });
        }
    }
    let curve = |points: &Vec<Solved>| {
        let mut curve = Curve::default();
        curve.add_piece(points);
        curve
    };
    Ok(solved.iter().map(curve).collect())
}

/// Up to `many` places spread over `0..count`, first and last among them.
fn spread(count: usize, many: usize) -> Vec<usize> {
    let last = count.saturating_sub(1);
    let mut places: Vec<usize> = (0..many).map(|k| last * k / (many - 1).max(1)).collect();
    places.dedup();
    places
}
