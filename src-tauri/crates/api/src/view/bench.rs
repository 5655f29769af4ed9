use super::BothLanguages;
use drawing::Picture;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;
use ts_rs::TS;

/// The circuit as it is lived on while it is measured.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct BenchView {
    /// The drawing, with what is known by now.
    pub picture: Picture,
    /// What is switched while it is looked at; null where the circuit has nothing to switch.
    pub switch: Option<BenchSwitch>,
    /// Volts of a healthy circuit in the shown state, by point; points that float are left out.
    pub healthy: BTreeMap<String, f64>,
}

/// The key, or what else a circuit's states hang on most.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct BenchSwitch {
    /// State variable of the circuit.
    pub id: String,
    /// Its name.
    pub name: BothLanguages,
    /// Its positions, in the order of the circuit.
    pub positions: Vec<BenchPosition>,
    /// The one that is shown.
    pub shown: String,
}

/// One position of the switch.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct BenchPosition {
    /// Position id.
    pub id: String,
    /// Its name.
    pub name: BothLanguages,
    /// Readings taken in it.
    pub readings: u32,
}
