//! Could anybody tell two truths apart with the tests of this circuit?

use std::collections::BTreeSet;

use circuit::{Circuit, FaultMode, FaultSpec, MeasureMode, ObservedValue};

use super::Failure;
use super::break_file;
use super::harm::Edit;
use super::hidden::{Yard, cause};
use super::job::Job;
use super::measure::{self, Instrument};
use super::settle::Bench;
use super::specimen::Vehicle;
use super::truth;

/// Severities that are tried first, and refinements around the best.
const FIRST: usize = 11;
const REFINEMENTS: usize = 7;
/// Distance, in deviations of an ordinary meter, within which nobody tells two readings apart.
const ALIKE: f64 = 3.0;

impl Job {
    /// Shows a cause of the file the same as this truth in every test of the circuit, with its best severity, to a meter
    /// without error? Looks aside: they show what can be seen, not what flows.
    ///
    /// # Errors
    /// ngspice finds no operating point.
    pub fn shows_the_same(&self, cause_id: &str) -> Result<bool, Failure> {
        let yard = Yard { circuit: &self.drawing, vehicle: &self.healthy };
        let listed =
            self.drawing.components.iter().flat_map(|part| part.faults.iter().map(move |one| (part, one)));
        let found = listed.into_iter().find(|(part, fault)| cause(&part.id, fault.mode) == cause_id);
        let Some((part, fault)) = found else { return Ok(false) };
        let edits = self.truth.hidden.iter().flat_map(|one| &one.edits);
        let own = shown(&self.drawing, self.healthy.with(edits))?;
        let distance = |severity: f64| -> Result<f64, Failure> {
            let edits: Vec<Edit> = break_file::edits(&yard, part, fault.mode, fault.at.as_deref(), severity);
            Ok(farthest(&self.drawing, &own, &shown(&self.drawing, self.healthy.with(&edits))?))
        };
        let Some((min, max)) = range(fault) else { return Ok(distance(0.0)? <= ALIKE) };
        closest(&distance, min, max, fault.mode).map(|best| best <= ALIKE)
    }
}

const fn range(fault: &FaultSpec) -> Option<(f64, f64)> {
    match (fault.min, fault.max) {
        (Some(min), Some(max)) => Some((min, max)),
        _ => None,
    }
}

#[allow(clippy::cast_precision_loss, reason = "a dozen steps")]
fn closest(
    distance: &impl Fn(f64) -> Result<f64, Failure>,
    min: f64,
    max: f64,
    mode: FaultMode,
) -> Result<f64, Failure> {
    let linear = matches!(mode, FaultMode::LowVoltage | FaultMode::DrawsTooMuch | FaultMode::LowDuty);
    let at = |u: f64| if linear { min + (max - min) * u } else { min * (max / min).powf(u) };
    let mut best = (f64::INFINITY, 0.0);
    for step in 0..FIRST {
        let u = step as f64 / (FIRST - 1) as f64;
        let here = distance(at(u))?;
        if here < best.0 {
            best = (here, u);
        }
    }
    let mut width = 0.5 / (FIRST - 1) as f64;
    for _ in 0..REFINEMENTS {
        if best.0 <= ALIKE {
            break;
        }
        for u in [best.1 - width, best.1 + width] {
            let here = distance(at(u.clamp(0.0, 1.0)))?;
            if here < best.0 {
                best = (here, u.clamp(0.0, 1.0));
            }
        }
        width /= 2.0;
    }
    Ok(best.0)
}

/// What every test shows, looks left out.
fn shown(circuit: &Circuit, vehicle: Vehicle) -> Result<Vec<Option<ObservedValue>>, Failure> {
    let mut bench = Bench::new(vehicle, BTreeSet::new());
    // The complaint was there before the first test: a fuse that blows has blown.
    truth::complains(circuit, &mut bench)?;
    circuit
        .tests
        .iter()
        .map(|test| match test.mode {
            MeasureMode::Look => Ok(None),
            MeasureMode::YesNo => {
                let yes = truth::happens(&mut bench, test)?;
                Ok(Some(if yes { ObservedValue::Yes } else { ObservedValue::No }))
            }
            _ => measure::perfect(circuit, &mut bench, test, &Instrument::plain()),
        })
        .collect()
}

/// The largest difference between two sets of readings, in deviations; one answer that differs is enough.
fn farthest(circuit: &Circuit, one: &[Option<ObservedValue>], other: &[Option<ObservedValue>]) -> f64 {
    let meter = circuit::Meter::default();
    let pairs = circuit.tests.iter().zip(one).zip(other);
    let apart = pairs.map(|((test, one), other)| match (one, other) {
        (Some(ObservedValue::Number(one)), Some(ObservedValue::Number(other))) => {
            let accuracy = meter.accuracy(test.mode);
            accuracy.map_or(0.0, |accuracy| (one - other).abs() / accuracy.sigma(one.abs().max(other.abs())))
        }
        (one, other) if one == other => 0.0,
        _ => f64::INFINITY,
    });
    apart.fold(0.0, f64::max)
}
