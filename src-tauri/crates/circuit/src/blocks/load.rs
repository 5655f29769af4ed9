//! What a relay switches: numbers, faults, wires and phrases of each load, as data.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::blocks::faults::WireRow;
use crate::error::CircuitError;
use crate::file::fault::FaultSpec;
use crate::file::text::Text;

/// One load.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Load {
    /// Its name in the list.
    pub id: String,
    /// Short names that the circuit's ids are made from.
    pub ids: LoadIds,
    /// What it is electrically.
    pub kind: LoadKind,
    /// How much healthy specimens differ, ± percent (95 %).
    pub tolerance_percent: f64,
    /// It works from so many volts on.
    pub works_at_volts: f64,
    /// Chance that somebody who looks or listens says "no" although it works.
    pub miss: f64,
    /// Rating of its fuse, ampere.
    pub fuse_amps: f64,
    /// Limits of its current at battery voltage by clamp, ampere; absent = the reading tells nothing (a starter).
    #[serde(default)]
    pub amps: Option<(f64, f64)>,
    /// The ways it fails.
    pub faults: Vec<FaultSpec>,
    /// Its wires.
    pub wires: LoadWires,
    /// Cautions wherever it may start to work.
    #[serde(default)]
    pub cautions: Vec<String>,
    /// What usually asks for it, by ids of the list of switches; the commonest first.
    #[serde(default)]
    pub asked_by: Vec<String>,
    /// What else usually has to be so.
    #[serde(default)]
    pub conditions: Vec<String>,
    /// The module that usually drives it, by its id in the list of modules.
    #[serde(default)]
    pub usual_module: Option<String>,
    /// How it is spoken of.
    pub words: LoadWords,
}

/// Short names: `fan` makes `fuse_fan`, `fan_fuse_out` and `fan_feed`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LoadIds {
    /// Of its fuse and its tests.
    pub name: String,
    /// Of the part itself.
    pub part: String,
    /// Of its points (`motor` makes `motor_pos` and `motor_neg`), its connector and its ground wire.
    pub points: String,
    /// Of the question whether it works.
    pub works: String,
}

/// What it is electrically. Ohm and volts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum LoadKind {
    /// A motor, or anything that may jam: fan, pump, horn.
    Motor {
        /// Volts over amperes while it works at 12 V.
        ohms: f64,
        /// Standing still; absent = as while it works.
        #[serde(default)]
        stalled_ohms: Option<f64>,
    },
    /// A filament lamp.
    Lamp {
        /// Hot.
        ohms: f64,
        /// Cold.
        cold_ohms: f64,
    },
    /// A heater.
    Heater {
        /// Resistance.
        ohms: f64,
    },
    /// A magnet: clutch, valve.
    Magnet {
        /// Resistance.
        ohms: f64,
        /// Volts at which it pulls in.
        pull_in_volts: f64,
        /// Volts below which it lets go.
        drop_out_volts: f64,
    },
    /// A starter: solenoid with its contact, motor, battery cable, ground at the engine.
    Starter {
        /// Both windings of the solenoid.
        solenoid_ohms: f64,
        /// Volts at which it pulls in.
        pull_in_volts: f64,
        /// Volts below which it lets go.
        drop_out_volts: f64,
        /// Volts over amperes of the motor while it cranks.
        motor_ohms: f64,
    },
}

impl LoadKind {
    /// What it draws while it works at 12 V, or what its winding draws, ampere.
    pub(super) fn amps(&self) -> f64 {
        match *self {
            Self::Motor { ohms, .. }
            | Self::Lamp { ohms, .. }
            | Self::Heater { ohms }
            | Self::Magnet { ohms, .. }
            | Self::Starter { solenoid_ohms: ohms, .. } => 12.0 / ohms,
        }
    }
}

/// Wires from the fuse to relay 30, from relay 87 to the load, from the load to ground.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LoadWires {
    /// Fuse to 30.
    pub feed: WireRow,
    /// 87 to the load.
    pub output: WireRow,
    /// Load to ground; absent = grounded through its housing at the engine.
    #[serde(default)]
    pub ground: Option<WireRow>,
}

/// Phrases of a load, each whole: articles and genders are in the data, nothing is put together from endings.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LoadWords {
    /// "Radiator fan relay" / "Relé del ventilador del radiador".
    pub relay: Text,
    /// "fan motor" / "motor del ventilador".
    pub part: Text,
    /// Before a noun in English, after it in Spanish: "fan" / "del ventilador".
    pub name: Text,
    /// "to the fan" / "al ventilador".
    pub to: Text,
    /// "of the fan" / "del ventilador".
    pub of: Text,
    /// "does the fan run?" / "¿gira el ventilador?".
    pub works: Text,
    /// The same as the beginning of a sentence, without its end: "Does the fan run" / "¿Gira el ventilador".
    pub does: Text,
    /// "Radiator fan never runs" / "El ventilador del radiador nunca gira".
    pub complaint: Text,
    /// What a customer calls it, with its article: "the radiator fan" / "el ventilador del radiador".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub everyday: Option<Text>,
    /// Where its feed is read: "Across the fan connector" / "Entre los pines del ventilador".
    pub across: Text,
    /// "fan motor connector" / "conector del motor".
    pub connector: Text,
    /// How it is said that the load is asked for, where the request doesn't say it better.
    pub asking: Asking,
}

/// Asked for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Asking {
    /// After a comma: "fan commanded on" / "ventilador pedido".
    pub asked: Text,
    /// After a question about the load: "when it is commanded on" / "cuando se pide".
    pub when_it: Text,
    /// After a question about something else: "when the fan is commanded on" / "al pedir el ventilador".
    pub when: Text,
}

const LISTED: &str = include_str!("loads.json");

/// Every load of the list.
///
/// # Errors
/// A list that can't be read: a mistake in our own data.
pub fn loads() -> Result<Vec<Load>, CircuitError> {
    serde_json::from_str(LISTED).map_err(|error| CircuitError::Unreadable(format!("list of loads: {error}")))
}

/// One load by its id.
///
/// # Errors
/// No such load.
pub fn load(id: &str) -> Result<Load, CircuitError> {
    let unknown = || CircuitError::Unknown { kind: "load", id: id.to_owned() };
    loads()?.into_iter().find(|load| load.id == id).ok_or_else(unknown)
}
