//! Parts and their faults.

use crate::check::names::Names;
use crate::check::problem::{Problem, ProblemCode};
use crate::file::component::{Component, ComponentKind, Need};
use crate::file::fault::{FaultMode, FaultSpec};
use crate::file::layout::Circuit;

/// Numbers outside this range belong to no circuit of a vehicle.
const LARGEST: f64 = 1e12;

pub(super) fn check(circuit: &Circuit, names: &Names<'_>, problems: &mut Vec<Problem>) {
    for part in &circuit.components {
        let place = format!("components/{}", part.id);
        names.conditions(&place, &part.present_when, problems);
        for point in part.kind.points() {
            names.point(&place, point, problems);
        }
        numbers(part, &place, problems);
        kind(part, &place, names, problems);
        for fault in &part.faults {
            fault_is_sound(&place, part, fault, problems);
        }
        let mut modes: Vec<FaultMode> = part.faults.iter().map(|fault| fault.mode).collect();
        modes.sort_unstable();
        modes.dedup();
        if modes.len() < part.faults.len() {
            let remedy = "Keep one entry for each mode; widen its range instead";
            contradiction(&place, "the same way to fail stands twice", remedy, problems);
        }
    }
    let pulsed = circuit.components.iter().filter(|part| part.kind.duty().is_some());
    for part in pulsed.skip(1) {
        let place = format!("components/{}", part.id);
        contradiction(
            &place,
            "a second pulsed driver",
            "A circuit can hold one; leave out its `duty`",
            problems,
        );
    }
}

fn contradiction(place: &str, problem: &str, remedy: &str, problems: &mut Vec<Problem>) {
    problems.push(Problem::new(ProblemCode::Contradiction, place, problem, remedy));
}

fn numbers(part: &Component, place: &str, problems: &mut Vec<Problem>) {
    let sound = |number: &f64| *number > 0.0 && *number < LARGEST;
    if !part.kind.positive_numbers().iter().all(sound) {
        let remedy = "Resistances, lengths, sections, volts and limits lie above zero and below 1e12";
        problems.push(Problem::new(ProblemCode::Number, place, "a number is out of range", remedy));
    }
    if !(0.0..=90.0).contains(&part.tolerance_percent) {
        let remedy = "Write ± percent between 0 and 90";
        problems.push(Problem::new(ProblemCode::Number, place, "tolerance_percent is out of range", remedy));
    }
    let ends = part.kind.points();
    if ends.first() == ends.get(1) {
        let remedy = "Give it two points; a part on one point does nothing";
        contradiction(place, "both ends are the same point", remedy, problems);
    }
}

fn kind(part: &Component, place: &str, names: &Names<'_>, problems: &mut Vec<Problem>) {
    let mut asked = |sound: bool, problem: &str, remedy: &str| {
        if !sound {
            contradiction(place, problem, remedy, problems);
        }
    };
    match &part.kind {
        ComponentKind::Contact { coil, .. } => {
            let coil_of = names.parts.get(coil.as_str());
            let is_coil = coil_of.is_some_and(|part| matches!(part.kind, ComponentKind::Coil { .. }));
            asked(is_coil, &format!("{coil:?} isn't a coil"), "Name the coil that moves this contact");
        }
        ComponentKind::Coil { pull_in_volts, drop_out_volts, .. } => {
            let remedy = "Write a drop-out below the pull-in";
            asked(drop_out_volts < pull_in_volts, "it drops out above its pull-in", remedy);
        }
        ComponentKind::Wire { temperature_c, .. } => {
            let remedy = "Write a temperature between −60 and 200 °C";
            asked((-60.0..=200.0).contains(temperature_c), "no wire is that hot or cold", remedy);
        }
        ComponentKind::Lamp { ohms, cold_ohms: Some(cold), .. } => {
            let remedy = "A cold filament has about a tenth of its hot resistance: write between 3 and 100 %";
            asked(
                *cold < *ohms && *cold > 0.03 * ohms,
                "cold and hot resistance don't belong together",
                remedy,
            );
        }
        ComponentKind::Motor { ohms, stalled_ohms: Some(stalled), .. } => {
            asked(stalled < ohms, "it draws less standing still", "Write stalled_ohms below ohms");
        }
        ComponentKind::Diode { on_ohms, off_ohms, .. } => {
            asked(*off_ohms > 1e3 * on_ohms, "it hardly blocks", "Write off_ohms above 1000 times on_ohms");
        }
        ComponentKind::HighSideDriver { duty: Some(duty), .. }
        | ComponentKind::LowSideDriver { duty: Some(duty), .. } => {
            let remedy = "Write a share above 0 and below 1, or leave it out";
            asked(*duty > 0.0 && *duty < 1.0, "no such duty", remedy);
        }
        _ => {}
    }
    if let ComponentKind::Switch { closed_when: when, .. }
    | ComponentKind::HighSideDriver { on_when: when, .. }
    | ComponentKind::LowSideDriver { on_when: when, .. } = &part.kind
    {
        names.conditions(place, when, problems);
    }
    if let ComponentKind::LowSideDriver { freewheel: Some(point), .. } = &part.kind {
        names.point(place, point, problems);
    }
    if let ComponentKind::Battery { volts_when, .. } = &part.kind {
        volts_when.iter().for_each(|special| names.conditions(place, &special.when, problems));
    }
    needs_are_sound(place, part.kind.needs(), names, problems);
}

pub(super) fn needs_are_sound(place: &str, needs: &[Need], names: &Names<'_>, problems: &mut Vec<Problem>) {
    for need in needs {
        names.point(place, &need.red, problems);
        names.point(place, &need.black, problems);
        if need.at_least.is_none() && need.at_most.is_none() {
            contradiction(place, "a need without a bound", "Write at_least or at_most", problems);
        }
    }
}

fn fault_is_sound(place: &str, part: &Component, fault: &FaultSpec, problems: &mut Vec<Problem>) {
    let place = format!("{place}/faults/{}", fault.mode.code());
    let mut asked = |sound: bool, code: ProblemCode, problem: &str, remedy: &str| {
        if !sound {
            problems.push(Problem::new(code, &place, problem, remedy));
        }
    };
    let odds = fault.odds > 0.0 && fault.odds < LARGEST;
    asked(odds, ProblemCode::Number, "odds out of range", "Write odds above zero");
    let share = (0.0..=1.0).contains(&fault.comes_and_goes);
    asked(share, ProblemCode::Number, "comes_and_goes out of range", "Write a share, 0 to 1");
    let can = part.kind.can_have(fault.mode);
    asked(can, ProblemCode::Contradiction, "this sort of part can't fail this way", "Choose another mode");
    let range = match (fault.min, fault.max) {
        (Some(min), Some(max)) => fault.mode.has_severity() && min > 0.0 && max > min && max < LARGEST,
        (None, None) => !fault.mode.has_severity(),
        _ => false,
    };
    let remedy = "Modes with a severity need 0 < min < max, the others neither";
    asked(range, ProblemCode::Number, "min and max don't fit the mode", remedy);
    let factor = !matches!(fault.mode, FaultMode::DrawsTooMuch | FaultMode::LowDuty);
    let below = factor || fault.max.is_none_or(|max| max < 1.0);
    asked(below, ProblemCode::Number, "a factor of 1 or more", "Write a max below 1");
    let own = fault.at.as_ref().is_none_or(|at| part.kind.points().contains(&at.as_str()));
    asked(own, ProblemCode::Contradiction, "`at` isn't the part's own point", "Name one of its points");
}
