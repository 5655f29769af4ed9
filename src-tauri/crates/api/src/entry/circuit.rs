use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A meter's profile as typed.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct MeterEntry {
    /// Name.
    pub name: String,
    /// Input resistance on volts in megohms ("10").
    pub volts_input_megohms: String,
    /// Input resistance in the low-impedance mode in kilohms ("3", "300"); empty when the meter has none.
    pub low_impedance_kilohms: String,
    /// Accuracy on DC volts: percent of the reading ("0.5").
    pub accuracy_percent: String,
    /// Accuracy on DC volts: counts ("2").
    pub accuracy_counts: String,
}

/// What was found at a pin.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct PinEntry {
    /// Connector id.
    pub connector: String,
    /// Pin number.
    pub pin: String,
    /// Wire colour by IEC 60757, may be empty.
    pub colour: String,
    /// Function as noted, may be empty.
    pub function: String,
    /// Note of earlier work, may be empty.
    pub note: String,
    /// True when it isn't known for certain what the pin carries.
    #[serde(default)]
    pub in_doubt: bool,
    /// Photos kept before, by hash.
    pub photos: Vec<String>,
}
