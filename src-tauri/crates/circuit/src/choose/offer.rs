//! Which tests may be offered now, and why the others may not.

use crate::answer::next_test::{WithheldCode, WithheldTest};
use crate::answer::options::Options;
use crate::file::observation::{Observation, ObservedValue, Present};
use crate::file::procedure::{Limits, Required, Requirement, Test};
use crate::predict::model::Model;
use crate::predict::reading::{Measure, Predicted};

/// A test with its column.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Candidate<'t> {
    pub test: &'t Test,
    /// Nothing when the meter has no such mode.
    pub column: Option<usize>,
}

/// An observation with its column.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Done<'o> {
    pub observation: &'o Observation,
    pub column: usize,
}

/// Splits the tests into those offered and those withheld.
pub(crate) fn split<'t>(
    model: &Model<'_>,
    tests: &[Candidate<'t>],
    done: &[Done<'_>],
    options: &Options,
) -> (Vec<Candidate<'t>>, Vec<WithheldTest>) {
    let mut offered = Vec::new();
    let mut withheld = Vec::new();
    for candidate in tests {
        match why_not(model, tests, candidate, done, options) {
            None => offered.push(*candidate),
            Some((why, needs)) => withheld.push(WithheldTest {
                test: candidate.test.id.clone(),
                why,
                needs,
                cautions: candidate.test.cautions.clone(),
            }),
        }
    }
    (offered, withheld)
}

fn why_not(
    model: &Model<'_>,
    tests: &[Candidate<'_>],
    candidate: &Candidate<'_>,
    done: &[Done<'_>],
    options: &Options,
) -> Option<(WithheldCode, Vec<String>)> {
    if options.cannot_reach.contains(&candidate.test.id) {
        return Some((WithheldCode::CannotReach, Vec::new()));
    }
    let Some(column) = candidate.column else { return Some((WithheldCode::MeterCannot, Vec::new())) };
    let seen = |done: &&Done<'_>| {
        model.same_reading(done.column, column) && done.observation.complaint == Present::Yes
    };
    if done.iter().any(|done| seen(&done)) {
        return Some((WithheldCode::AlreadyDone, Vec::new()));
    }
    let open = candidate.test.requires.iter().filter(|needed| !is_proven(model, tests, needed, done));
    let needs: Vec<String> = open.map(|needed| needed.test.clone()).collect();
    if needs.is_empty() { None } else { Some((WithheldCode::NeedsProofFirst, needs)) }
}

fn is_proven(model: &Model<'_>, tests: &[Candidate<'_>], needed: &Requirement, done: &[Done<'_>]) -> bool {
    let Some(test) = tests.iter().find(|candidate| candidate.test.id == needed.test) else { return false };
    // The latest result decides: a feed that was good an hour ago may be gone.
    let last = done.iter().rev().find(|done| Some(done.column) == test.column);
    last.is_some_and(|last| match needed.result {
        Required::Done => true,
        Required::Good => is_good(model, test.test, last) == Some(true),
    })
}

/// More than the range shows: that says something of a limit within the range, and nothing of one beyond it.
fn more_than(range: f64, limits: &Limits) -> Option<bool> {
    match (limits.min, limits.max) {
        (_, Some(max)) if max <= range => Some(false),
        (Some(min), None) if min <= range => Some(true),
        _ => None,
    }
}

/// Is the result good? Readings by the test's limits, answers by what a healthy circuit would answer.
pub(crate) fn is_good(model: &Model<'_>, test: &Test, done: &Done<'_>) -> Option<bool> {
    match done.observation.value {
        ObservedValue::Number(reading) => test.limits.as_ref().map(|limits| limits.contain(reading)),
        ObservedValue::OverLimit if done.observation.range.is_some() => {
            more_than(done.observation.range?, test.limits.as_ref()?)
        }
        // Above every least value; a test without limits is good where a healthy circuit shows the same.
        ObservedValue::OverLimit => Some(match &test.limits {
            Some(limits) => limits.max.is_none(),
            None => {
                let healthy = model.columns.get(done.column).map(|column| column.healthy);
                matches!(healthy, Some(Predicted::OverLimit))
            }
        }),
        ObservedValue::Yes | ObservedValue::No => {
            let column = model.columns.get(done.column)?;
            let healthy = match (&column.measure, column.healthy) {
                (Measure::Question(_), Predicted::Value { value, .. }) => value > 0.5,
                _ => return None,
            };
            Some(healthy == (done.observation.value == ObservedValue::Yes))
        }
    }
}
