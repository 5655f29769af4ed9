//! What the engine has no use for, or couldn't compute with. A record that was kept before these rules still reads: a new
//! file and the engine itself refuse it.

use std::collections::BTreeSet;

use crate::check::problem::{Problem, ProblemCode};
use crate::file::component::{Component, ComponentKind, Need};
use crate::file::layout::Circuit;
use crate::file::observation::MeasureMode;
use crate::file::procedure::{Behavior, Test};

/// Smallest number of a part: a billionth of an ohm is less than any conductor of a vehicle has, and a solution with less
/// has no digits left.
const SMALLEST: f64 = 1e-9;
/// Largest, as for a part's other numbers.
const LARGEST: f64 = 1e12;
/// Widest tolerance, ± percent.
const WIDEST: f64 = 90.0;

pub(super) fn check(circuit: &Circuit, problems: &mut Vec<Problem>) {
    for part in &circuit.components {
        let place = format!("components/{}", part.id);
        numbers(part, &place, problems);
        tolerance(part, &place, problems);
        part.kind.needs().iter().for_each(|need| bounds(need, &place, problems));
    }
    for load in &circuit.loads {
        if !(0.0..=WIDEST).contains(&load.tolerance_percent) {
            let remedy = "Write ± percent between 0 and 90";
            number(&format!("loads/{}", load.id), "tolerance_percent is out of range", remedy, problems);
        }
    }
    if circuit.unmodeled_odds >= LARGEST {
        let remedy = "Write odds on the scale of the faults' odds";
        number("unmodelled_odds", "out of range", remedy, problems);
    }
    circuit.tests.iter().for_each(|test| one_test(circuit, test, problems));
    for connector in &circuit.connectors {
        let mut seen = BTreeSet::new();
        if !connector.pins.iter().all(|pin| seen.insert(&pin.number)) {
            let remedy = "Give each pin its own number";
            let place = format!("connectors/{}", connector.id);
            problems.push(Problem::new(ProblemCode::Name, &place, "two pins have one number", remedy));
        }
    }
}

fn number(place: &str, problem: &str, remedy: &str, problems: &mut Vec<Problem>) {
    problems.push(Problem::new(ProblemCode::Number, place, problem, remedy));
}

fn numbers(part: &Component, place: &str, problems: &mut Vec<Problem>) {
    let range = SMALLEST..LARGEST;
    let (all, ohms) = (part.kind.positive_numbers(), part.kind.healthy_ohms());
    // Those below zero are named already.
    let plain = all.iter().all(|number| *number > 0.0 && *number < LARGEST);
    if plain && all.iter().chain(&ohms).any(|number| !range.contains(number)) {
        let remedy = "Resistances, volts, amperes and limits lie between 1e-9 and 1e12";
        number(place, "a number is out of range", remedy, problems);
    }
    if let ComponentKind::Battery { volts_when, .. } = &part.kind
        && volts_when.iter().any(|special| !range.contains(&special.volts))
    {
        number(place, "volts_when: volts out of range", "Write volts above zero", problems);
    }
}

/// A tolerance that no reading would ever be judged by says something the engine doesn't do.
fn tolerance(part: &Component, place: &str, problems: &mut Vec<Problem>) {
    if part.tolerance_percent <= 0.0 {
        return;
    }
    let (problem, remedy) = match part.kind {
        ComponentKind::Battery { .. } => (
            "a battery's volts have a spread of their own, and its resistance hardly moves a reading",
            "Leave out its tolerance_percent; volts_spread says how far batteries differ",
        ),
        ComponentKind::HighSideDriver { duty: Some(_), .. }
        | ComponentKind::LowSideDriver { duty: Some(_), .. } => (
            "the engine can't use a tolerance on a driver that pulses",
            "Leave out its tolerance_percent, or give it to the load it drives",
        ),
        _ => return,
    };
    problems.push(Problem::new(ProblemCode::Contradiction, place, problem, remedy));
}

fn bounds(need: &Need, place: &str, problems: &mut Vec<Problem>) {
    if need.at_least.zip(need.at_most).is_some_and(|(least, most)| least > most) {
        number(place, "a need that nothing can meet", "Write at_least below at_most", problems);
    }
}

fn one_test(circuit: &Circuit, test: &Test, problems: &mut Vec<Problem>) {
    let place = format!("tests/{}", test.id);
    let limits = test.limits.as_ref().and_then(|limits| limits.min.zip(limits.max));
    if limits.is_some_and(|(min, max)| min > max) {
        number(&place, "no reading lies within its limits", "Write min below max", problems);
    }
    let flow = |part: &Component| {
        part.kind.healthy_ohms().is_some() || matches!(part.kind, ComponentKind::Diode { .. })
    };
    let clamped = |part: &&Component| match (&test.red, &test.black) {
        (Some(red), Some(black)) if test.mode == MeasureMode::AmpsClamp => {
            let ends = part.kind.points();
            ends.len() == 2 && ends.contains(&red.as_str()) && ends.contains(&black.as_str())
        }
        _ => false,
    };
    let asked = test.question.as_ref().map(|question| &question.behavior);
    let named = |part: &&Component| matches!(asked, Some(Behavior::CarriesMoreThan { component, .. }) if *component == part.id);
    if let Some(Behavior::ModuleSees { needs }) = asked {
        needs.iter().for_each(|need| bounds(need, &place, problems));
    }
    let mut parts = circuit.components.iter().filter(|part| clamped(part) || named(part));
    if let Some(part) = parts.find(|part| !flow(part)) {
        let problem = format!("what flows through {:?} isn't known by its ends", part.id);
        let remedy = "Name a wire, a connection, a fuse or the load beside it";
        problems.push(Problem::new(ProblemCode::Contradiction, &place, problem, remedy));
    }
}
