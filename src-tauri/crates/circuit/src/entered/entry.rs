//! What a technician enters: parts between named points, connectors, a module.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::entered::module_entry::EnteredModule;
use crate::entered::size::WireSize;
use crate::file::layout::ColorCode;

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
    /// Name of what should work and doesn't: a load, a sensor whose reading is wrong, a module that doesn't communicate.
    pub works: String,
    /// When it should work.
    #[serde(default)]
    pub works_while: WorksWhile,
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
    /// One module, as it was entered before a circuit could have several.
    #[serde(default)]
    pub module: Option<EnteredModule>,
    /// Modules.
    #[serde(default)]
    pub modules: Vec<EnteredModule>,
}

/// When something should work.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WorksWhile {
    /// With the key on.
    #[default]
    KeyOn,
    /// With the key in crank.
    Crank,
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
        /// Color: base, then stripe.
        #[serde(default, rename = "colour")]
        color: Vec<ColorCode>,
    },
    /// Terminal, splice of two wires, ground point.
    Connection {},
    /// Splice of more than two wires: its legs meet at its first point.
    Splice {
        /// Further points at it.
        others: Vec<String>,
    },
    /// Sensor with three wires: from its 5 V to its ground, with its signal between.
    Sensor {
        /// Point of its signal.
        signal: String,
        /// Where its signal lies between ground (0) and 5 V (100) as it should be now, percent.
        percent: f64,
        /// Resistance from 5 V to ground, ohm; absent = 5000.
        #[serde(default)]
        ohms: Option<f64>,
    },
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
    /// The key in "on", and while cranking.
    Key,
    /// The key in "on"; open while cranking.
    KeyRun,
    /// The key in "crank" alone.
    Crank,
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
    /// Color of its wire.
    #[serde(default, rename = "colour")]
    pub color: Vec<ColorCode>,
}

impl EnteredPart {
    /// All points it is at.
    pub(super) fn points(&self) -> Vec<&str> {
        let more: Vec<&str> = match &self.kind {
            EnteredKind::Splice { others } => others.iter().map(|point| point.trim()).collect(),
            EnteredKind::Sensor { signal, .. } => vec![signal.trim()],
            _ => Vec::new(),
        };
        [self.from.trim(), self.to.trim()].into_iter().chain(more).collect()
    }
}

impl EnteredKind {
    /// Does it do something while cranking that it doesn't with the key on, or the other way round?
    pub(super) const fn cranks(&self) -> bool {
        matches!(self, Self::Switch { closed_by: ClosedBy::KeyRun | ClosedBy::Crank })
    }
}
