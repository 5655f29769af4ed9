//! What a technician enters: parts between named points, connectors, a module.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::entered::size::WireSize;
use crate::file::layout::ColourCode;

/// A circuit from a diagram. Points have no list of their own: they are there because a part names them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Entered {
    /// What it is, in the technician's words.
    pub title: String,
    /// The diagram it is taken from.
    pub source: String,
    /// The complaint, in the technician's words.
    pub complaint: String,
    /// Name of the part that should work and doesn't.
    pub works: String,
    /// Parts; among them one battery.
    pub parts: Vec<EnteredPart>,
    /// Connectors.
    #[serde(default)]
    pub connectors: Vec<EnteredConnector>,
    /// Points that no lead can reach.
    #[serde(default)]
    pub out_of_reach: Vec<String>,
    /// Points at which nothing may be loaded: data lines, 5 V references, air-bag circuits.
    #[serde(default)]
    pub never_load: Vec<String>,
    /// The module that switches it, if one does.
    #[serde(default)]
    pub module: Option<EnteredModule>,
}

/// A part between two named points.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EnteredPart {
    /// Its name, unique among the parts.
    pub name: String,
    /// Point at one end (a battery's positive post, a diode's anode).
    pub from: String,
    /// Point at the other end.
    pub to: String,
    /// What it is.
    pub kind: EnteredKind,
}

/// What a part is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum EnteredKind {
    /// 12 V battery.
    Battery {},
    /// Fuse.
    Fuse {
        /// Rating, ampere.
        amps: f64,
    },
    /// Wire.
    Wire {
        /// Length, m.
        length_m: f64,
        /// Size.
        size: WireSize,
        /// Colour: base, then stripe.
        #[serde(default)]
        colour: Vec<ColourCode>,
    },
    /// Terminal, splice, ground point.
    Connection {},
    /// Switch.
    Switch {
        /// What closes it.
        closed_by: ClosedBy,
    },
    /// Coil of a relay.
    RelayCoil {
        /// The relay's name; its contacts carry the same.
        relay: String,
        /// Resistance, ohm; absent = 85 (published relay data: 75 to 90).
        #[serde(default)]
        ohms: Option<f64>,
    },
    /// Contact of a relay.
    RelayContact {
        /// The relay's name.
        relay: String,
        /// Closed while the relay is at rest (87a).
        #[serde(default)]
        closed_at_rest: bool,
    },
    /// Lamp.
    Lamp {
        /// Watts at 12 V.
        watts: f64,
    },
    /// Motor, pump, fan.
    Motor {
        /// What it draws while it works at 12 V.
        amps: f64,
    },
    /// Heater, horn, valve or any other load.
    Load {
        /// Resistance, ohm.
        ohms: f64,
    },
    /// Resistor.
    Resistor {
        /// Resistance, ohm.
        ohms: f64,
    },
    /// Diode.
    Diode {},
    /// Thermistor whose resistance falls with heat.
    Thermistor {
        /// Resistance at 25 °C, ohm.
        ohms_25: f64,
    },
}

/// What closes a switch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ClosedBy {
    /// The key in "on".
    Key,
    /// Asking for the function: a button, a temperature, a pedal.
    Request,
}

/// A connector with its pins.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EnteredConnector {
    /// Its name.
    pub name: String,
    /// Pins.
    pub pins: Vec<EnteredPin>,
}

/// A pin.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EnteredPin {
    /// Number or designation.
    pub number: String,
    /// The point behind it.
    pub point: String,
    /// Colour of its wire.
    #[serde(default)]
    pub colour: Vec<ColourCode>,
}

/// A module and the points at its connector.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EnteredModule {
    /// Its name.
    pub name: String,
    /// Point of its feed.
    pub feed: String,
    /// Point of its ground.
    pub ground: String,
    /// Point of its output.
    pub output: String,
    /// What the output does.
    pub drives: Drives,
    /// What asks it; absent = it is asked over the bus or decides by itself.
    #[serde(default)]
    pub input: Option<EnteredInput>,
}

/// What a module's output does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Drives {
    /// It feeds the load.
    Feed,
    /// It grounds the load.
    Ground,
}

/// An input of a module.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EnteredInput {
    /// Point at the connector.
    pub point: String,
    /// What the request brings: feed or ground.
    pub asked_by: Drives,
}
