use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The meter whose readings follow. Numbers are decimal strings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeterChosen {
    /// Name as the technician calls it. Withheld.
    #[serde(default)]
    pub name: String,
    /// Input resistance on volts, ohms.
    pub volts_input_ohms: String,
    /// Input resistance in the low-impedance mode, ohms; empty when the meter has none.
    #[serde(default)]
    pub low_impedance_ohms: String,
    /// Accuracy on DC volts, percent of the reading.
    pub accuracy_percent: String,
    /// Accuracy on DC volts, counts.
    pub accuracy_counts: u32,
}

/// The circuit that is being tested.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CircuitChosen {
    /// Circuit id in the library.
    pub circuit: String,
    /// The circuit file as it was, so that a later library never rewrites history. Text, because it holds numbers that a
    /// record may not.
    pub definition: String,
}
