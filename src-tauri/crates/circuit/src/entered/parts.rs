//! The parts of the circuit that entered parts become: mostly one each, of splices and sensors several.

use crate::entered::draw;
use crate::entered::entry::{ClosedBy, EnteredKind, EnteredPart};
use crate::entered::faults;
use crate::entered::making::Making;
use crate::entered::modules::Built;
use crate::entered::names::{coil_of, variable_of};
use crate::entered::phrases::{same, text, when};
use crate::file::component::{Component, ComponentKind, Conditions};

/// Resistance of a sensor from its 5 V to its ground where nobody knows it, ohm, and of its electronics (judgment).
const SENSOR_OHMS: f64 = 5_000.0;
const ELECTRONICS_OHMS: f64 = 5_000.0;

pub(super) fn components(making: &Making<'_>) -> Vec<Component> {
    making.entered.parts.iter().flat_map(|part| of(making, part)).collect()
}

/// State variable of a sensor's plug.
pub(super) fn plug_of(sensor: &str) -> String {
    format!("plug_{sensor}")
}

fn of(making: &Making<'_>, part: &EnteredPart) -> Vec<Component> {
    let (ids, id) = (making.ids, making.ids.part(&part.name));
    let (from, to) = (ids.point(&part.from), ids.point(&part.to));
    let made = |id: String, name, kind, present_when| Component {
        id,
        name,
        label: None,
        kind,
        present_when,
        tolerance_percent: tolerance(&part.kind),
        faults: Vec::new(),
    };
    let words = same(&part.name);
    match &part.kind {
        EnteredKind::Splice { others } => {
            let ends = std::iter::once(&part.to).chain(others).enumerate();
            ends.map(|(i, end)| {
                let joint = ComponentKind::Connection { from: from.clone(), to: ids.point(end), ohms: 0.002 };
                let name = text(
                    format!("{}, to {}", words.en, end.trim()),
                    format!("{}, hacia {}", words.es, end.trim()),
                );
                made(leg(&id, i), name, joint, Conditions::new())
            })
            .collect()
        }
        EnteredKind::Sensor { signal, percent, ohms } => {
            let (all, share, signal) = (ohms.unwrap_or(SENSOR_OHMS), percent / 100.0, ids.point(signal));
            let plugged = when(&plug_of(&id), &["plugged"]);
            let upper = ComponentKind::Resistor {
                from: from.clone(),
                to: signal.clone(),
                ohms: rounded(all * (1.0 - share)),
            };
            let lower = ComponentKind::Resistor { from: signal, to: to.clone(), ohms: rounded(all * share) };
            let draw = ComponentKind::SupplyLoad { from, to, ohms: ELECTRONICS_OHMS };
            let side =
                |en: &str, es: &str| text(format!("{}, {en}", words.en), format!("{}, {es}", words.es));
            vec![
                made(id.clone(), side("5 V side", "lado 5 V"), upper, plugged.clone()),
                made(leg(&id, 1), side("ground side", "lado masa"), lower, plugged.clone()),
                made(leg(&id, 2), side("electronics", "electrónica"), draw, plugged),
            ]
        }
        _ => vec![made(id, words, kind(making, part), present_when(making, part))],
    }
}

/// Further parts of a splice or a sensor: its own name with a number.
fn leg(id: &str, i: usize) -> String {
    if i == 0 { id.to_owned() } else { format!("{id}.{}", i.saturating_add(1)) }
}

/// Every file gives it back as it was written.
fn rounded(ohms: f64) -> f64 {
    (ohms * 100.0).round() / 100.0
}

/// The part of the entry that a part of the circuit comes from.
pub(super) fn entered_as(making: &Making<'_>, id: &str) -> Option<usize> {
    let plain = id.split('.').next().unwrap_or(id);
    making.entered.parts.iter().position(|part| making.ids.part(&part.name) == plain)
}

/// How entered parts fail: on the ground side and along 5 V, signals and the bus otherwise than elsewhere.
pub(super) fn set_faults(making: &Making<'_>, components: &mut [Component], reference: &str) {
    let ground: Vec<String> = draw::grounds(components, reference).into_keys().map(str::to_owned).collect();
    let signals = signal_points(making, components);
    for part in components.iter_mut() {
        let Some(entered) = entered_as(making, &part.id).and_then(|i| making.entered.parts.get(i)) else {
            continue;
        };
        let ends = part.kind.points();
        let at_ground = ends.iter().any(|end| ground.iter().any(|point| point == end));
        let signal = ends.iter().any(|end| signals.iter().any(|point| point == end));
        part.faults = match (&entered.kind, &part.kind) {
            (EnteredKind::Sensor { .. }, ComponentKind::SupplyLoad { .. }) => faults::of_electronics(),
            (EnteredKind::Wire { .. }, _) if signal => faults::of_signal_wire(at_ground),
            (kind, _) => faults::of(kind, at_ground),
        };
    }
}

/// Points that conductors join to 5 V pins, sensor inputs, sensor grounds and CAN pins: nothing may be loaded there.
pub(super) fn signal_points(making: &Making<'_>, components: &[Component]) -> Vec<String> {
    let pins = |module: &Built<'_>| -> Vec<String> {
        let inputs = module.inputs.iter().filter(|input| !input.asked_by.asks()).map(|input| &input.pin);
        let can = module.can.iter().flat_map(|can| [&can.high, &can.low]);
        let all = inputs.chain(can).chain(&module.references).chain(&module.sensor_grounds);
        all.map(|pin| making.ids.point(pin.point)).collect()
    };
    joined(making.modules.iter().flat_map(pins).collect(), components)
}

/// These points and all that wires, joints and splices join to them.
pub(super) fn joined(mut points: Vec<String>, components: &[Component]) -> Vec<String> {
    loop {
        let before = points.len();
        for part in components {
            let conducts = matches!(part.kind, ComponentKind::Wire { .. } | ComponentKind::Connection { .. });
            let ends = part.kind.points();
            if conducts && ends.iter().any(|end| points.iter().any(|point| point == end)) {
                let new = ends.into_iter().filter(|end| !points.iter().any(|point| point == end));
                let new: Vec<String> = new.map(str::to_owned).collect();
                points.extend(new);
            }
        }
        if points.len() == before {
            return points;
        }
    }
}

/// How much healthy specimens differ, ± percent (judgment).
const fn tolerance(kind: &EnteredKind) -> f64 {
    match kind {
        EnteredKind::RelayCoil { .. } | EnteredKind::Load { .. } | EnteredKind::Thermistor { .. } => 10.0,
        EnteredKind::Lamp { .. } | EnteredKind::Motor { .. } => 15.0,
        EnteredKind::Resistor { .. } | EnteredKind::Sensor { .. } => 5.0,
        _ => 0.0,
    }
}

/// Relay parts come out with their relay, the battery with its clamp.
fn present_when(making: &Making<'_>, part: &EnteredPart) -> Conditions {
    match &part.kind {
        EnteredKind::RelayCoil { relay, .. } | EnteredKind::RelayContact { relay, .. } => {
            when(&variable_of(relay, making.ids, making.entered), &["fitted"])
        }
        EnteredKind::Battery {} => when("battery", &["connected"]),
        _ => Conditions::new(),
    }
}

fn kind(making: &Making<'_>, part: &EnteredPart) -> ComponentKind {
    let (ids, entered) = (making.ids, making.entered);
    let (from, to) = (ids.point(&part.from), ids.point(&part.to));
    match &part.kind {
        EnteredKind::Battery {} => ComponentKind::Battery {
            positive: from,
            negative: to,
            volts: 12.55,
            volts_spread: 0.15,
            internal_ohms: 0.01,
            volts_when: Vec::new(),
        },
        // 7.7 mohm at 10 A (published, seen), others in proportion.
        EnteredKind::Fuse { amps } => {
            let (ohms, renewed_when) = (0.077 / amps, Conditions::new());
            ComponentKind::Fuse { from, to, ohms, rating_amps: *amps, renewed_when }
        }
        EnteredKind::Wire { length_m, size, .. } => ComponentKind::Wire {
            from,
            to,
            length_m: *length_m,
            area_mm2: size.area_mm2(),
            temperature_c: 25.0,
        },
        EnteredKind::Connection {} | EnteredKind::Splice { .. } => {
            ComponentKind::Connection { from, to, ohms: 0.002 }
        }
        EnteredKind::Switch { closed_by } => {
            let closed_when = match closed_by {
                ClosedBy::Key if entered.cranks() => when("key", &["on", "crank"]),
                ClosedBy::Key | ClosedBy::KeyRun => when("key", &["on"]),
                ClosedBy::Crank => when("key", &["crank"]),
                ClosedBy::Request => when("request", &["on"]),
            };
            ComponentKind::Switch { from, to, closed_when, closed_ohms: 0.02 }
        }
        EnteredKind::RelayCoil { ohms, .. } => {
            let ohms = ohms.unwrap_or(85.0);
            ComponentKind::Coil { from, to, ohms, pull_in_volts: 7.5, drop_out_volts: 1.5 }
        }
        EnteredKind::RelayContact { relay, closed_at_rest } => {
            let coil = coil_of(relay, ids, entered);
            ComponentKind::Contact { from, to, coil, closed_at_rest: *closed_at_rest, ohms: 0.005 }
        }
        EnteredKind::Lamp { watts } => {
            let ohms = 144.0 / watts;
            ComponentKind::Lamp { from, to, ohms, cold_ohms: Some(ohms / 10.0) }
        }
        EnteredKind::Motor { amps } => {
            ComponentKind::Motor { from, to, ohms: 12.0 / amps, stalled_ohms: None }
        }
        EnteredKind::Sensor { ohms, .. } => {
            ComponentKind::Resistor { from, to, ohms: ohms.unwrap_or(SENSOR_OHMS) }
        }
        EnteredKind::Load { ohms } | EnteredKind::Resistor { ohms } => {
            ComponentKind::Resistor { from, to, ohms: *ohms }
        }
        EnteredKind::Diode {} => {
            ComponentKind::Diode { from, to, drop_volts: 0.6, on_ohms: 0.05, off_ohms: 1e7 }
        }
        EnteredKind::Thermistor { ohms_25 } => ComponentKind::Thermistor {
            from,
            to,
            ohms_25: *ohms_25,
            beta_kelvin: 3500.0,
            temperature_c: 25.0,
        },
    }
}
