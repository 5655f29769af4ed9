//! What a healthy circuit shows at its own tests: it must pass them, and must not show the complaint.

use crate::check::problem::{Problem, ProblemCode};
use crate::error::CircuitError;
use crate::file::layout::Circuit;
use crate::file::meter::Meter;
use crate::file::observation::MeasureMode;
use crate::file::procedure::Test;
use crate::predict::reading::{Measure, Predicted, View};
use crate::solve::settle::settle;
use crate::solve::wiring::Wiring;

/// What a healthy circuit would show at its own tests, and shouldn't.
pub(crate) fn check_healthy(circuit: &Circuit) -> Vec<Problem> {
    let mut problems = Vec::new();
    let Ok(wiring) = Wiring::of(circuit) else { return problems };
    for (number, test) in circuit.tests.iter().enumerate() {
        let place = format!("tests/{}", test.id);
        match shown(&wiring, number, test) {
            Ok(predicted) => judge(circuit, test, predicted, &place, &mut problems),
            Err(error) => {
                let remedy = "Correct the parts of this state";
                problems.push(Problem::new(ProblemCode::Contradiction, &place, error.to_string(), remedy));
            }
        }
    }
    problems
}

/// What a healthy circuit shows at one of its tests; nothing when it has no solution there.
pub(crate) fn healthy_shows(circuit: &Circuit, number: usize) -> Option<Predicted> {
    let wiring = Wiring::of(circuit).ok()?;
    shown(&wiring, number, circuit.tests.get(number)?).ok()
}

/// What a healthy circuit shows at each of its tests; nothing where it has no solution.
pub(crate) fn all_healthy_show(circuit: &Circuit) -> Vec<Option<Predicted>> {
    let Ok(wiring) = Wiring::of(circuit) else { return circuit.tests.iter().map(|_| None).collect() };
    circuit.tests.iter().enumerate().map(|(number, test)| shown(&wiring, number, test).ok()).collect()
}

fn shown(wiring: &Wiring<'_>, number: usize, test: &Test) -> Result<Predicted, CircuitError> {
    let meter = Meter::default();
    let mut setting = wiring.setting(&test.state, test.load.as_deref())?;
    let measure = match (&test.red, &test.black) {
        (Some(red), Some(black)) => {
            let (a, b) = (wiring.point(red)?, wiring.point(black)?);
            wiring.put_meter(&mut setting, test.mode, a, b, &meter);
            Measure::Reading(test.mode, a, b)
        }
        _ => Measure::Question(number),
    };
    let settled = settle(wiring, &setting, &[])?;
    let view = View { wiring, meter: &meter, range: None, setting: &setting, faults: &[], settled: &settled };
    Ok(view.predict(&measure))
}

fn judge(circuit: &Circuit, test: &Test, predicted: Predicted, place: &str, problems: &mut Vec<Problem>) {
    let mut fails = |problem: String, remedy: &str| {
        problems.push(Problem::new(ProblemCode::HealthyFails, place, problem, remedy));
    };
    match predicted {
        Predicted::Value { value, .. } => {
            if let Some(limits) = test.limits.as_ref().filter(|limits| !limits.contain(value)) {
                let problem = format!(
                    "a healthy circuit shows {value:.4}, outside {:?} to {:?}",
                    limits.min, limits.max
                );
                fails(problem, "Correct the limits, the state or the values");
            }
            if circuit.complaint.test == test.id && circuit.complaint.answer == (value > 0.5) {
                fails(
                    "a healthy circuit shows the complaint".to_owned(),
                    "Correct the state or the threshold",
                );
            }
        }
        Predicted::OverLimit => {
            if test.limits.as_ref().is_some_and(|limits| limits.max.is_some()) {
                fails("a healthy circuit shows over-limit".to_owned(), "Correct the points or the state");
            }
        }
        Predicted::Anything => {
            let remedy = if test.mode == MeasureMode::Ohms {
                "Ohms need a circuit that nothing feeds: choose such a state"
            } else {
                "Relays chatter in this state: choose another, or correct pull-in and drop-out"
            };
            fails("a healthy circuit shows nothing definite".to_owned(), remedy);
        }
    }
}
