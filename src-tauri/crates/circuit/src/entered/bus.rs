//! A CAN pair: who drives it, who listens, and the terminators at its ends. Volts are the averages a meter shows on a busy
//! bus, as in the library's CAN circuit.

use crate::check::problem::{Problem, ProblemCode};
use crate::entered::entry::{Entered, EnteredKind};
use crate::entered::faults;
use crate::entered::module::{Laid, awake, component, inner_point, named};
use crate::entered::modules::Built;
use crate::entered::phrases::when;
use crate::file::component::{Component, ComponentKind, Conditions, Need};

/// Each end of a bus has one (published, seen), ohm.
pub(super) const TERMINATOR_OHMS: f64 = 120.0;
/// What stands for a talking transceiver: 5 V through so many ohms to the high wire, and from the low wire to ground, so
/// that a meter shows 2.8 and 2.2 V (common practice: 2.6 to 2.9 and 2.1 to 2.4 V).
const DRIVE_OHMS: f64 = 225.0;
/// A listening transceiver (computed with published terminators: 59.9 ohm with one of 30 kohm).
const LISTEN_OHMS: f64 = 30_000.0;
const BIAS_OHMS: f64 = 25_000.0;
/// What a listener understands: volts between the wires, and of each against its own ground (judgment).
const PAIR_VOLTS: (f64, f64) = (0.35, 0.85);
const HIGH_VOLTS: (f64, f64) = (2.3, 3.2);
const LOW_VOLTS: (f64, f64) = (1.7, 2.7);
/// Entered resistors that count as a terminator, ohm.
const LIKE_A_TERMINATOR: std::ops::RangeInclusive<f64> = 100.0..=140.0;

/// Which module talks: the one that should be heard, else the first on the bus.
pub(super) fn talker(entered: &Entered, modules: &[Built<'_>]) -> Option<usize> {
    let on_bus = |module: &Built<'_>| module.can.is_some();
    let meant = modules.iter().position(|module| on_bus(module) && module.name == entered.works.trim());
    meant.or_else(|| modules.iter().position(on_bus))
}

/// Transceiver and terminator of one module.
pub(super) fn add(module: &Built<'_>, talks: bool, cranks: bool, laid: &mut Laid<'_>) {
    let Some(can) = &module.can else { return };
    let (high, low) = (module.inside(&can.high), module.inside(&can.low));
    let ground = module.inside(&module.ground);
    let mut resistor =
        |what: &str, (en, es): (&str, &str), from: &str, to: &str, ohms, there: Conditions, faults| {
            let kind = ComponentKind::Resistor { from: from.to_owned(), to: to.to_owned(), ohms };
            let part = component(&module.part(what), named(module, en, es), kind, there);
            laid.parts.push(Component { faults, ..part });
        };
    if can.terminated {
        let words = ("terminator inside the module", "resistencia de terminación del módulo");
        let faults = faults::of_terminator();
        resistor("terminator", words, &high, &low, TERMINATOR_OHMS, Conditions::new(), faults);
    }
    if !talks {
        let words = ("CAN receiver of the module", "receptor CAN del módulo");
        resistor("can_receiver", words, &high, &low, LISTEN_OHMS, Conditions::new(), Vec::new());
        let words = ("CAN bias of the module", "polarización CAN del módulo");
        resistor("can_bias", words, &low, &ground, BIAS_OHMS, Conditions::new(), Vec::new());
        return;
    }
    let inner = module.part("inside_can_supply");
    let keyed = when("key", if cranks { &["on", "crank"] } else { &["on"] });
    let words = ("CAN driver of the module, high wire", "etapa CAN del módulo, cable alto");
    resistor("can_drive_high", words, &inner, &high, DRIVE_OHMS, Conditions::new(), faults::of_can_drive());
    let words = ("CAN driver of the module, low wire", "etapa CAN del módulo, cable bajo");
    resistor("can_drive_low", words, &low, &ground, DRIVE_OHMS, keyed.clone(), faults::of_can_drive());
    let name = named(module, "CAN transceiver of the module", "transceptor CAN del módulo");
    laid.points.push(inner_point(&inner, name.clone()));
    let kind = ComponentKind::RegulatedSupply {
        output: inner,
        ground,
        volts: 5.0,
        ohms: 1.0,
        limit_amps: 0.2,
        needs: vec![awake(module)],
    };
    let supply = component(&module.part("can_transceiver"), name, kind, keyed);
    laid.parts.push(Component { faults: faults::of_transceiver(), ..supply });
}

/// What must be so for the talker to be heard by the listener.
pub(super) fn heard(talker: &Built<'_>, listener: &Built<'_>) -> Option<Vec<Need>> {
    let can = listener.can.as_ref()?;
    let (high, low) = (listener.inside(&can.high), listener.inside(&can.low));
    let ground = listener.inside(&listener.ground);
    let need = |red: &String, black: &String, (least, most): (f64, f64)| Need {
        red: red.clone(),
        black: black.clone(),
        at_least: Some(least),
        at_most: Some(most),
    };
    Some(vec![
        awake(talker),
        awake(listener),
        need(&high, &low, PAIR_VOLTS),
        need(&high, &ground, HIGH_VOLTS),
        need(&low, &ground, LOW_VOLTS),
    ])
}

/// A bus has two ends, and somebody at each of them.
pub(super) fn check(entered: &Entered, modules: &[Built<'_>]) -> Vec<Problem> {
    let on_bus: Vec<&Built<'_>> = modules.iter().filter(|module| module.can.is_some()).collect();
    let Some(first) = on_bus.first() else { return Vec::new() };
    let place = format!("{}/can/terminated", first.place);
    if on_bus.len() < 2 {
        let problem = "one module alone is no bus";
        let remedy = "Enter the module at the other end of the two wires";
        return vec![Problem::new(ProblemCode::BusEnds, &place, problem, remedy)];
    }
    let inside = on_bus.iter().filter(|module| module.can.as_ref().is_some_and(|can| can.terminated)).count();
    let entered = entered.parts.iter().filter(
        |part| matches!(part.kind, EnteredKind::Resistor { ohms } if LIKE_A_TERMINATOR.contains(&ohms)),
    );
    let all = inside.saturating_add(entered.count());
    if inside <= 2 && all >= 2 {
        return Vec::new();
    }
    let problem = format!("{all} terminators of 120 ohm are entered; a bus has one at each of its two ends");
    let remedy = "Mark the two modules that have one inside, or enter it as a resistor between the wires";
    vec![Problem::new(ProblemCode::BusEnds, &place, problem, remedy)]
}
