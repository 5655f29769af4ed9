//! Tests, questions and modules.

use std::collections::BTreeSet;

use crate::check::names::Names;
use crate::check::parts::needs_are_sound;
use crate::check::problem::{Problem, ProblemCode};
use crate::file::component::ComponentKind;
use crate::file::layout::Circuit;
use crate::file::module::{EvidenceNeed, Module};
use crate::file::observation::MeasureMode;
use crate::file::procedure::{Behavior, Required, Test};

pub(super) fn check(circuit: &Circuit, names: &Names<'_>, problems: &mut Vec<Problem>) {
    for test in &circuit.tests {
        let place = format!("tests/{}", test.id);
        names.state(&place, &test.state, problems);
        test.requires.iter().for_each(|needed| names.test(&place, &needed.test, problems));
        test.load.iter().for_each(|load| names.load(&place, load, problems));
        if !(test.minutes > 0.0 && test.minutes <= 600.0) {
            let remedy = "Write minutes above 0, at most 600";
            problems.push(Problem::new(ProblemCode::Number, &place, "minutes out of range", remedy));
        }
        leads(circuit, test, &place, names, problems);
        requirements(circuit, test, &place, problems);
        if test.question.is_some() && !test.compares.is_value() {
            let remedy = "Leave out `compares`, or make it a reading";
            let problem = "nothing is recorded at a look or a question";
            problems.push(Problem::new(ProblemCode::Contradiction, &place, problem, remedy));
        }
        if test.condition.is_some() && test.mode == MeasureMode::Look {
            let remedy = "Leave out `condition`, or ask a question";
            let problem = "damage that is looked for doesn't come and go";
            problems.push(Problem::new(ProblemCode::Contradiction, &place, problem, remedy));
        }
    }
    let asked = circuit.tests.iter().find(|test| test.id == circuit.complaint.test);
    if asked.is_some_and(|test| test.question.is_none()) {
        let remedy = "Name a look or a yes/no test that shows the complaint";
        problems.push(Problem::new(ProblemCode::Contradiction, "complaint", "its test asks nothing", remedy));
    }
    circuit.modules.iter().for_each(|module| module_is_sound(circuit, module, names, problems));
}

fn leads(circuit: &Circuit, test: &Test, place: &str, names: &Names<'_>, problems: &mut Vec<Problem>) {
    let mut contradiction = |problem: &str, remedy: &str| {
        problems.push(Problem::new(ProblemCode::Contradiction, place, problem, remedy));
    };
    match (test.mode, &test.red, &test.black, &test.question) {
        (MeasureMode::Look | MeasureMode::YesNo, None, None, Some(question)) => {
            let chances = [question.miss, question.false_alarm];
            if !chances.iter().all(|chance| (0.001..=0.5).contains(chance)) {
                contradiction("miss or false_alarm out of range", "Write chances between 0.001 and 0.5");
            }
            happening(place, &question.behavior, names, problems);
        }
        (MeasureMode::Look | MeasureMode::YesNo, ..) => {
            contradiction(
                "a look or question with leads, or without `question`",
                "Give it `question` and no leads",
            );
        }
        (MeasureMode::Continuity, ..) => {
            contradiction("a test that only listens for a beep", "Ask for `ohms`: a beep may answer it");
        }
        (_, Some(red), Some(black), None) => {
            if red == black {
                contradiction("both leads on one point", "Put the leads on two points");
            }
            for point in [red, black] {
                names.point(place, point, problems);
                in_reach(circuit, point, place, problems);
            }
            special_modes(circuit, test, red, black, place, problems);
        }
        _ => contradiction(
            "a reading without both leads, or with a `question`",
            "Give it `red` and `black` only",
        ),
    }
}

fn in_reach(circuit: &Circuit, id: &str, place: &str, problems: &mut Vec<Problem>) {
    if circuit.points.iter().any(|point| point.id == id && !point.reachable) {
        let remedy = "Measure at a point that a lead can reach, or mark it reachable";
        problems.push(Problem::new(
            ProblemCode::OutOfReach,
            place,
            format!("no lead reaches {id:?}"),
            remedy,
        ));
    }
}

/// Amperes need one part to be opened or clamped, duty something that pulses.
fn special_modes(
    circuit: &Circuit,
    test: &Test,
    red: &str,
    black: &str,
    place: &str,
    problems: &mut Vec<Problem>,
) {
    use ComponentKind as Kind;
    let joins = |ends: Vec<&str>| ends.len() == 2 && ends.contains(&red) && ends.contains(&black);
    let joining = || circuit.components.iter().filter(|part| joins(part.kind.points()));
    let opens = |kind: &Kind| {
        matches!(kind, Kind::Fuse { .. } | Kind::Wire { .. } | Kind::Connection { .. } | Kind::Switch { .. })
    };
    if test.mode == MeasureMode::Amps && !joining().any(|part| opens(&part.kind)) {
        let problem =
            "an ampere meter between points that no fuse, wire, connection or switch joins shorts them";
        let remedy = "Put the leads on the two sides of the part the meter takes the place of";
        problems.push(Problem::new(ProblemCode::Unsafe, place, problem, remedy));
    }
    if test.mode == MeasureMode::AmpsClamp && joining().count() != 1 {
        let remedy = "Put the leads on the two ends of the one part the clamp goes around";
        problems.push(Problem::new(
            ProblemCode::OutOfReach,
            place,
            "not one part joins these points",
            remedy,
        ));
    }
    if matches!(test.mode, MeasureMode::VoltsAc | MeasureMode::Hertz) {
        alternates(circuit, place, problems);
    }
    if test.mode == MeasureMode::Duty && circuit.components.iter().all(|part| part.kind.duty().is_none()) {
        let remedy = "Give the driver its `duty`, or measure volts";
        problems.push(Problem::new(ProblemCode::OutOfReach, place, "nothing here pulses", remedy));
    }
}

/// AC volts come from a pick-up alone.
fn alternates(circuit: &Circuit, place: &str, problems: &mut Vec<Problem>) {
    if !circuit.components.iter().any(|part| matches!(part.kind, ComponentKind::PickUp { .. })) {
        let (problem, remedy) = ("nothing here gives AC volts", "Measure DC volts, or write a `pick_up`");
        problems.push(Problem::new(ProblemCode::OutOfReach, place, problem, remedy));
    }
}

/// A test that waits for itself is never offered, nor one that waits for a "good" nobody defined.
fn requirements(circuit: &Circuit, test: &Test, place: &str, problems: &mut Vec<Problem>) {
    let find = |id: &str| circuit.tests.iter().find(|test| test.id == id);
    let mut waiting = vec![test];
    let mut met: BTreeSet<&str> = BTreeSet::new();
    while let Some(next) = waiting.pop() {
        for needed in next.requires.iter().filter_map(|needed| find(&needed.test)) {
            if needed.id == test.id {
                let remedy = "Break the ring of `requires`";
                problems.push(Problem::new(ProblemCode::OutOfReach, place, "it waits for itself", remedy));
                return;
            }
            if met.insert(&needed.id) {
                waiting.push(needed);
            }
        }
    }
    let good = test.requires.iter().filter(|needed| needed.result == Required::Good);
    for needed in good.filter_map(|needed| find(&needed.test)) {
        if needed.limits.is_none() && needed.question.is_none() {
            let problem = format!("it waits for a good {:?}, which has no limits", needed.id);
            problems.push(Problem::new(ProblemCode::OutOfReach, place, problem, "Give that test its limits"));
        }
    }
}

fn happening(place: &str, happening: &Behavior, names: &Names<'_>, problems: &mut Vec<Problem>) {
    match happening {
        Behavior::CoilPullsIn { coil: part } | Behavior::ConditionsMet { component: part } => {
            names.part(place, part, problems);
        }
        Behavior::PartWorks { component, .. } | Behavior::CarriesMoreThan { component, .. } => {
            names.part(place, component, problems);
        }
        Behavior::AlternatingSeen { needs, red, black, .. } => {
            needs_are_sound(place, needs, names, problems);
            [red, black].into_iter().for_each(|point| names.point(place, point, problems));
        }
        Behavior::ModuleSees { needs } => needs_are_sound(place, needs, names, problems),
        Behavior::DamageSeen { components } => {
            components.iter().for_each(|component| names.part(place, component, problems));
        }
    }
}

fn module_is_sound(circuit: &Circuit, module: &Module, names: &Names<'_>, problems: &mut Vec<Problem>) {
    let place = format!("modules/{}", module.id);
    module.components.iter().for_each(|part| names.part(&place, part, problems));
    names.test(&place, &module.inspection, problems);
    let mode = |id: &str| circuit.tests.iter().find(|test| test.id == id).map(|test| test.mode);
    if mode(&module.inspection).is_some_and(|mode| mode != MeasureMode::Look) {
        let remedy = "Name the look at its connector";
        problems.push(Problem::new(
            ProblemCode::Contradiction,
            &place,
            "its inspection isn't a look",
            remedy,
        ));
    }
    for need in &module.evidence {
        need.tests.iter().for_each(|test| names.test(&place, test, problems));
        evidence(circuit, need, &place, problems);
    }
}

fn evidence(circuit: &Circuit, need: &EvidenceNeed, place: &str, problems: &mut Vec<Problem>) {
    if need.looks < 1 || need.looks > need.tests.len() {
        let problem = format!("{:?} asks for {} looks", need.id, need.looks);
        let remedy = "Write looks between 1 and the number of its tests";
        problems.push(Problem::new(ProblemCode::Contradiction, place, problem, remedy));
    }
    for test in circuit.tests.iter().filter(|test| need.tests.contains(&test.id)) {
        if test.limits.is_none() && test.question.is_none() {
            let problem =
                format!("evidence {:?} can never be good: test {:?} has no limits", need.id, test.id);
            problems.push(Problem::new(ProblemCode::OutOfReach, place, problem, "Give that test its limits"));
        }
    }
}
