//! Along one cause's severities: where something moves, and the curves between.

use crate::error::CircuitError;
use crate::file::observation::MeasureMode;
use crate::predict::cause::Cause;
use crate::predict::curve::{Curve, SolvedPoint};
use crate::predict::reading::{Measure, Predicted};
use crate::solve::part::Position;
use crate::solve::settle::Settled;

/// How closely a cause is solved along its severities.
#[derive(Debug, Clone)]
pub(crate) struct Closeness {
    /// Shares of the prior at which it is solved in any case.
    steps: Vec<f64>,
    /// Where something moves is found to this share of the prior.
    within: f64,
}

impl Closeness {
    /// For the table every diagnosis reads from.
    pub fn full(cause: &Cause) -> Self {
        Self { steps: cause.solved_at(), within: 1e-6 }
    }

    /// For one of two faults, which is solved anew each time.
    pub fn coarse(cause: &Cause) -> Self {
        let steps = cause.solved_at();
        let last = steps.len().saturating_sub(1);
        let kept = steps.into_iter().enumerate().filter(|(i, _)| i % 3 == 0 || *i == last);
        Self { steps: kept.map(|(_, u)| u).collect(), within: 1e-3 }
    }
}

/// A solved severity with all columns of its setting.
#[derive(Debug, Clone, Default)]
pub(crate) struct Along {
    pub u: f64,
    signature: Vec<u8>,
    pub predicted: Vec<Predicted>,
    pub positions: Vec<Position>,
}

impl Along {
    /// Equal signatures mean the same linear piece: the same positions, and the same answers to questions.
    pub fn of<'p>(
        settled: &Settled,
        shown: impl Iterator<Item = (&'p Measure, &'p Predicted)>,
        predicted: Vec<Predicted>,
    ) -> Self {
        let positions = settled.positions.iter().map(|position| *position as u8);
        let kinds = shown.map(|(measure, predicted)| match (measure, predicted) {
            (Measure::Question(_), Predicted::Value { value, .. }) => 10 + u8::from(*value > 0.5),
            (Measure::Reading(MeasureMode::Duty, ..), Predicted::Value { value, .. }) if *value > 50.0 => 11,
            (Measure::Reading(MeasureMode::Continuity, ..), Predicted::Value { value, .. })
                if *value > 0.5 =>
            {
                11
            }
            (Measure::Reading(..), Predicted::Value { .. }) => 12,
            (_, Predicted::OverLimit) => 13,
            (_, Predicted::Anything) => 14,
        });
        let signature = positions.chain([u8::from(settled.steady)]).chain(kinds).collect();
        Self { u: 0.0, signature, predicted, positions: settled.positions.clone() }
    }

    /// The same, with these fuses blown: another piece than without.
    pub fn with_blown(mut self, fuses: &[usize]) -> Self {
        self.signature.extend(fuses.iter().map(|fuse| u8::try_from(*fuse).unwrap_or(u8::MAX)));
        self
    }

    fn solved(&self, place: usize, cause: &Cause) -> Option<SolvedPoint> {
        Some(SolvedPoint {
            u: self.u,
            severity: cause.severity(self.u),
            predicted: *self.predicted.get(place)?,
        })
    }
}

/// One curve per column.
///
/// # Errors
/// As `solve`.
pub(crate) fn curves_along(
    cause: &Cause,
    closeness: &Closeness,
    columns: usize,
    near: &[Position],
    solve: &impl Fn(f64, &[Position]) -> Result<Along, CircuitError>,
) -> Result<Vec<Curve>, CircuitError> {
    let points = points_along(closeness, near, solve)?;
    let mut pieces: Vec<&[Along]> =
        points.chunk_by(|left, right| left.signature == right.signature).collect();
    let mut curves = vec![Curve::default(); columns];
    while let Some((piece, rest)) = pieces.split_first() {
        let ends = piece.last().map(|last| last.u).zip(rest.first().and_then(|next| next.first()));
        let to = ends.map_or(1.0, |(last, next)| f64::midpoint(last, next.u));
        for (place, curve) in curves.iter_mut().enumerate() {
            let solved = piece.iter().filter_map(|along| along.solved(place, cause));
            curve.add_piece(&solved.collect::<Vec<_>>(), to);
        }
        pieces = rest.to_vec();
    }
    Ok(curves)
}

/// Solves at the cause's own steps, and finds by halving where something moves between two.
fn points_along(
    closeness: &Closeness,
    near: &[Position],
    solve: &impl Fn(f64, &[Position]) -> Result<Along, CircuitError>,
) -> Result<Vec<Along>, CircuitError> {
    let steps = &closeness.steps;
    // The weakest conductance first: from there every other severity adds conductance, and no digits are lost.
    if steps.len() > 1 {
        solve(1.0, near)?;
    }
    let mut points: Vec<Along> = Vec::with_capacity(steps.len());
    for u in steps.iter().copied() {
        let before = points.last().map_or(near, |point| &point.positions);
        let next = solve(u, before)?;
        halve(solve, closeness.within, &mut points, next)?;
    }
    third_points(solve, thinned(points, steps))
}

/// Without the points that were only solved to find where something moves.
fn thinned(points: Vec<Along>, steps: &[f64]) -> Vec<Along> {
    let mut kept = Vec::with_capacity(points.len());
    for piece in points.chunk_by(|left, right| left.signature == right.signature) {
        let last = piece.len() - 1;
        let needed = |(i, along): &(usize, &Along)| *i == 0 || *i == last || steps.contains(&along.u);
        kept.extend(piece.iter().enumerate().filter(needed).map(|(_, along)| along.clone()));
    }
    kept
}

/// Adds `next`, after halving the gap where something moves in it.
fn halve(
    solve: &impl Fn(f64, &[Position]) -> Result<Along, CircuitError>,
    within: f64,
    points: &mut Vec<Along>,
    next: Along,
) -> Result<(), CircuitError> {
    if let Some(before) = points.last()
        && before.signature != next.signature
        && next.u - before.u > within
    {
        let middle = solve(f64::midpoint(before.u, next.u), &before.positions)?;
        halve(solve, within, points, middle)?;
        return halve(solve, within, points, next);
    }
    points.push(next);
    Ok(())
}

/// A piece of two points needs a third of its own.
fn third_points(
    solve: &impl Fn(f64, &[Position]) -> Result<Along, CircuitError>,
    points: Vec<Along>,
) -> Result<Vec<Along>, CircuitError> {
    let mut all = Vec::with_capacity(points.len());
    for piece in points.chunk_by(|left, right| left.signature == right.signature) {
        if let [left, right] = piece {
            let middle = solve(f64::midpoint(left.u, right.u), &left.positions)?;
            let same = middle.signature == left.signature;
            all.push(left.clone());
            all.extend(same.then_some(middle));
            all.push(right.clone());
        } else {
            all.extend(piece.iter().cloned());
        }
    }
    Ok(all)
}
