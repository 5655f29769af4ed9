//! From an entry of the engine back to what one would type.

use crate::entry::{
    OwnCircuitEntry, OwnConnectorEntry, OwnInputEntry, OwnModuleEntry, OwnOutputEntry, OwnPartEntry,
    OwnPinEntry,
};
use crate::show;
use circuit::ColorCode;
use circuit::entered::*;

/// The entry as typed.
pub(super) fn entry(entered: &Entered) -> OwnCircuitEntry {
    OwnCircuitEntry {
        title: entered.title.clone(),
        source: entered.source.clone(),
        complaint: entered.complaint.clone(),
        works: entered.works.clone(),
        works_while: show::code(&entered.works_while),
        parts: entered.parts.iter().map(part).collect(),
        connectors: entered.connectors.iter().map(connector).collect(),
        out_of_reach: entered.out_of_reach.clone(),
        never_load: entered.never_load.clone(),
        modules: entered.module.iter().chain(&entered.modules).map(module).collect(),
    }
}

fn part(part: &EnteredPart) -> OwnPartEntry {
    let (name, from, to) = (part.name.clone(), part.from.clone(), part.to.clone());
    OwnPartEntry { name, from, to, ..kind(&part.kind) }
}

/// Kind with its own fields.
fn kind(kind: &EnteredKind) -> OwnPartEntry {
    let of = |kind: &str| OwnPartEntry { kind: kind.to_owned(), ..OwnPartEntry::default() };
    match kind {
        EnteredKind::Battery {} => of("battery"),
        EnteredKind::Fuse { amps } => OwnPartEntry { amps: amps.to_string(), ..of("fuse") },
        EnteredKind::Wire { length_m, size, color } => {
            let (size, size_unit) = wire_size(*size);
            OwnPartEntry {
                length_m: length_m.to_string(),
                size,
                size_unit,
                colour: colours(color),
                ..of("wire")
            }
        }
        EnteredKind::Connection {} => of("connection"),
        EnteredKind::Splice { others } => OwnPartEntry { others: others.clone(), ..of("splice") },
        EnteredKind::Sensor { signal, percent, ohms } => OwnPartEntry {
            signal: signal.clone(),
            percent: percent.to_string(),
            ohms: ohms.map(|ohms| ohms.to_string()).unwrap_or_default(),
            ..of("sensor")
        },
        EnteredKind::Switch { closed_by } => {
            OwnPartEntry { closed_by: show::code(closed_by), ..of("switch") }
        }
        EnteredKind::RelayCoil { relay, ohms } => OwnPartEntry {
            relay: relay.clone(),
            ohms: ohms.map(|ohms| ohms.to_string()).unwrap_or_default(),
            ..of("relay_coil")
        },
        EnteredKind::RelayContact { relay, closed_at_rest } => {
            OwnPartEntry { relay: relay.clone(), closed_at_rest: *closed_at_rest, ..of("relay_contact") }
        }
        EnteredKind::Lamp { watts } => OwnPartEntry { watts: watts.to_string(), ..of("lamp") },
        EnteredKind::Motor { amps } => OwnPartEntry { amps: amps.to_string(), ..of("motor") },
        EnteredKind::Load { ohms } => OwnPartEntry { ohms: ohms.to_string(), ..of("load") },
        EnteredKind::Resistor { ohms } => OwnPartEntry { ohms: ohms.to_string(), ..of("resistor") },
        EnteredKind::Diode {} => of("diode"),
        EnteredKind::Thermistor { ohms_25 } => OwnPartEntry { ohms: ohms_25.to_string(), ..of("thermistor") },
    }
}

fn wire_size(size: WireSize) -> (String, String) {
    match size {
        WireSize::Mm2(area) => (area.to_string(), "mm2".to_owned()),
        WireSize::Awg(number @ ..=0) => (format!("{}/0", 1_i64 - i64::from(number)), "awg".to_owned()),
        WireSize::Awg(number) => (number.to_string(), "awg".to_owned()),
    }
}

fn colours(codes: &[ColorCode]) -> String {
    codes.iter().map(show::code).collect()
}

fn connector(connector: &EnteredConnector) -> OwnConnectorEntry {
    let pin = |pin: &EnteredPin| OwnPinEntry {
        number: pin.number.clone(),
        point: pin.point.clone(),
        colour: colours(&pin.color),
    };
    OwnConnectorEntry { name: connector.name.clone(), pins: connector.pins.iter().map(pin).collect() }
}

/// What an entry says in the older way, with one output and one input, is shown in the newer.
fn module(module: &EnteredModule) -> OwnModuleEntry {
    let (high, low, can_terminated) = module
        .can
        .as_ref()
        .map(|can| (can.high.clone(), can.low.clone(), can.terminated))
        .unwrap_or_default();
    let older = EnteredOutput {
        point: module.output.clone(),
        drives: module.drives,
        duty_percent: None,
        asked_by: None,
    };
    let older = Some(older).filter(|output| !output.point.trim().is_empty());
    OwnModuleEntry {
        name: module.name.clone(),
        feed: module.feed.clone(),
        ground: module.ground.clone(),
        inputs: module.input.iter().chain(&module.inputs).map(input).collect(),
        outputs: older.iter().chain(&module.outputs).map(output).collect(),
        references: module.references.clone(),
        sensor_grounds: module.sensor_grounds.clone(),
        can_high: high,
        can_low: low,
        can_terminated,
    }
}

fn input(input: &EnteredInput) -> OwnInputEntry {
    OwnInputEntry { point: input.point.clone(), asked_by: show::code(&input.asked_by) }
}

fn output(output: &EnteredOutput) -> OwnOutputEntry {
    let asked_by = match output.asked_by.as_deref() {
        None => "all".to_owned(),
        Some([]) => "bus".to_owned(),
        Some([one, ..]) => one.clone(),
    };
    OwnOutputEntry {
        point: output.point.clone(),
        drives: show::code(&output.drives),
        duty_percent: output.duty_percent.map(|percent| percent.to_string()).unwrap_or_default(),
        asked_by,
    }
}
