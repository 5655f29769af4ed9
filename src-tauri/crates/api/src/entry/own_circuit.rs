use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A circuit as the technician enters it from a diagram. Everything is text as typed; points are there because a part
/// names them.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct OwnCircuitEntry {
    /// What it is.
    pub title: String,
    /// The diagram it is taken from.
    pub source: String,
    /// The complaint.
    pub complaint: String,
    /// Name of what should work and doesn't: a load, a sensor, a module on the bus.
    pub works: String,
    /// When it should work: key_on, crank.
    pub works_while: String,
    /// Parts; among them one battery.
    pub parts: Vec<OwnPartEntry>,
    /// Connectors.
    pub connectors: Vec<OwnConnectorEntry>,
    /// Points that no lead can reach.
    pub out_of_reach: Vec<String>,
    /// Points at which nothing may be loaded.
    pub never_load: Vec<String>,
    /// Modules.
    pub modules: Vec<OwnModuleEntry>,
}

/// A part between two named points. Fields that its kind doesn't have are ignored.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields, default)]
#[ts(export)]
pub struct OwnPartEntry {
    /// Name.
    pub name: String,
    /// Point at one end (a battery's positive post, a diode's anode).
    pub from: String,
    /// Point at the other end.
    pub to: String,
    /// battery, fuse, wire, connection, splice, switch, relay_coil, relay_contact, lamp, motor, load, resistor, diode,
    /// thermistor, sensor.
    pub kind: String,
    /// Fuse: rating; motor: what it draws (A).
    pub amps: String,
    /// Wire: length in metres.
    pub length_m: String,
    /// Wire: size.
    pub size: String,
    /// Wire: unit of the size, mm2 or awg.
    pub size_unit: String,
    /// Wire: colour by IEC 60757, base then stripe ("BUYE"); may be empty.
    pub colour: String,
    /// Switch: what closes it, key, key_run, crank or request.
    pub closed_by: String,
    /// Splice: further points at it.
    pub others: Vec<String>,
    /// Sensor: point of its signal.
    pub signal: String,
    /// Sensor: where its signal lies between ground and 5 V now (%).
    pub percent: String,
    /// Relay coil and contact: the relay's name.
    pub relay: String,
    /// Relay contact: closed while the relay is at rest.
    pub closed_at_rest: bool,
    /// Resistance in ohms: relay coil and sensor (may be empty), load, resistor; thermistor at 25 °C.
    pub ohms: String,
    /// Lamp: watts at 12 V.
    pub watts: String,
}

/// A connector with its pins.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct OwnConnectorEntry {
    /// Name.
    pub name: String,
    /// Pins.
    pub pins: Vec<OwnPinEntry>,
}

/// A pin.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct OwnPinEntry {
    /// Number.
    pub number: String,
    /// The point behind it.
    pub point: String,
    /// Colour of its wire by IEC 60757; may be empty.
    pub colour: String,
}

/// A module and the points at its connector.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct OwnModuleEntry {
    /// Name.
    pub name: String,
    /// Point of its feed.
    pub feed: String,
    /// Point of its ground.
    pub ground: String,
    /// Inputs.
    pub inputs: Vec<OwnInputEntry>,
    /// Outputs.
    pub outputs: Vec<OwnOutputEntry>,
    /// Points at which it gives sensors 5 V.
    pub references: Vec<String>,
    /// Points at which it grounds sensors.
    pub sensor_grounds: Vec<String>,
    /// Point of CAN high; both empty = it is on no bus that matters.
    pub can_high: String,
    /// Point of CAN low.
    pub can_low: String,
    /// A terminator of 120 Ω is inside.
    pub can_terminated: bool,
}

/// An input of a module.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct OwnInputEntry {
    /// Point.
    pub point: String,
    /// What comes there: feed, ground, sensor, thermistor.
    pub asked_by: String,
}

/// An output of a module.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct OwnOutputEntry {
    /// Point.
    pub point: String,
    /// What it does: feed or ground.
    pub drives: String,
    /// Share of the time it is on while commanded (%); empty = all the time.
    pub duty_percent: String,
    /// What asks for it: all (every input of the module), bus (over the bus, or it decides by itself), or the point of one
    /// input.
    pub asked_by: String,
}
