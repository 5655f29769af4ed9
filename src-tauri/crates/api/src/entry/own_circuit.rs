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
    /// Name of the part that should work and doesn't.
    pub works: String,
    /// Parts; among them one battery.
    pub parts: Vec<OwnPartEntry>,
    /// Connectors.
    pub connectors: Vec<OwnConnectorEntry>,
    /// Points that no lead can reach.
    pub out_of_reach: Vec<String>,
    /// Points at which nothing may be loaded.
    pub never_load: Vec<String>,
    /// The module that switches it, if one does.
    pub module: Option<OwnModuleEntry>,
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
    /// battery, fuse, wire, connection, switch, relay_coil, relay_contact, lamp, motor, load, resistor, diode, thermistor.
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
    /// Switch: what closes it, key or request.
    pub closed_by: String,
    /// Relay coil and contact: the relay's name.
    pub relay: String,
    /// Relay contact: closed while the relay is at rest.
    pub closed_at_rest: bool,
    /// Resistance in ohms: relay coil (may be empty), load, resistor; thermistor at 25 °C.
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
    /// Point of its output.
    pub output: String,
    /// What the output does: feed or ground.
    pub drives: String,
    /// Point of the input that asks it; empty = it is asked over the bus or decides by itself.
    pub input: String,
    /// What the request brings: feed or ground.
    pub asked_by: String,
}
