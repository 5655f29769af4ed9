//! What a technician enters of a module: the points at its connector, and what each of them does.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A module and the points at its connector.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EnteredModule {
    /// Its name.
    pub name: String,
    /// Point of its feed.
    pub feed: String,
    /// Point of its ground.
    pub ground: String,
    /// Point of its only output, as it was entered before a module could have several; empty = none of that sort.
    #[serde(default)]
    pub output: String,
    /// What that output does.
    #[serde(default)]
    pub drives: Drives,
    /// What asks that output; absent = it is asked over the bus or decides by itself.
    #[serde(default)]
    pub input: Option<EnteredInput>,
    /// Inputs.
    #[serde(default)]
    pub inputs: Vec<EnteredInput>,
    /// Outputs.
    #[serde(default)]
    pub outputs: Vec<EnteredOutput>,
    /// Points at which it gives its sensors 5 V; each has a supply of its own.
    #[serde(default)]
    pub references: Vec<String>,
    /// Points at which it grounds its sensors.
    #[serde(default)]
    pub sensor_grounds: Vec<String>,
    /// Its two pins at the CAN bus.
    #[serde(default)]
    pub can: Option<EnteredCan>,
}

/// What a module's output does.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Drives {
    /// It feeds the load.
    #[default]
    Feed,
    /// It grounds the load.
    Ground,
}

/// An output of a module.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EnteredOutput {
    /// Point at the connector.
    pub point: String,
    /// What it does.
    pub drives: Drives,
    /// Share of the time it is on while it is asked, percent; absent = all the time. One output of a circuit can pulse.
    #[serde(default)]
    pub duty_percent: Option<f64>,
    /// Points of the inputs that ask for it; absent = all of the module, empty = it is asked over the bus or decides by
    /// itself.
    #[serde(default)]
    pub asked_by: Option<Vec<String>>,
}

/// An input of a module.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EnteredInput {
    /// Point at the connector.
    pub point: String,
    /// What comes there.
    pub asked_by: AskedBy,
}

/// What comes to an input.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum AskedBy {
    /// A request brings a feed.
    Feed,
    /// A request brings ground.
    Ground,
    /// The signal of a sensor with three wires.
    Sensor,
    /// A thermistor to ground; the module pulls the wire up to 5 V.
    Thermistor,
}

impl AskedBy {
    /// Is it something that asks for an output?
    pub(super) const fn asks(self) -> bool {
        matches!(self, Self::Feed | Self::Ground)
    }
}

/// Two pins at a CAN bus.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EnteredCan {
    /// Point of CAN high.
    pub high: String,
    /// Point of CAN low.
    pub low: String,
    /// Is there a terminator of 120 ohm inside?
    #[serde(default)]
    pub terminated: bool,
}
