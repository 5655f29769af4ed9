use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A reading with everything that decides what it means.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadingKept {
    /// Test of the circuit it answers, or empty.
    #[serde(default)]
    pub test: String,
    /// Canonical decimal with the digits the meter showed ("12.40"), or `OL`, `yes`, `no`.
    pub value: String,
    /// Unit as the meter showed it: mV, V, ohm, kohm, Mohm, mA, A, yes_no.
    pub unit: String,
    /// Meter mode: volts_dc, volts_low_impedance, ohms, amps_dc, millivolts_dc, amps_clamp, duty, look, yes_no.
    pub mode: String,
    /// Red lead's point, empty for a look.
    #[serde(default)]
    pub red: String,
    /// Black lead's point, empty for a look.
    #[serde(default)]
    pub black: String,
    /// Pin in doubt under the red lead, instead of a point: connector and number (`module_connector/4`), or empty.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub red_pin: String,
    /// Pin in doubt under the black lead, or empty.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub black_pin: String,
    /// Positions of all that can be switched, plugged or fitted.
    #[serde(default)]
    pub state: BTreeMap<String, String>,
    /// Substitute load, or empty.
    #[serde(default)]
    pub load: String,
    /// Whether the complaint was present: yes, no, unknown.
    pub complaint_present: String,
    /// Placement number of the leads; the same number means they were not placed anew.
    pub placement: u32,
    /// Note. Withheld.
    #[serde(default)]
    pub note: String,
    /// Photos.
    #[serde(default)]
    pub photos: Vec<Digest>,
}

/// A correction stands beside what it corrects. The corrected reading replaces it in the reasoning.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadingCorrected {
    /// Leaf of the record that is corrected.
    pub corrects: Digest,
    /// Why. Withheld.
    #[serde(default)]
    pub reason: String,
    /// Note of the corrected reading. Withheld, and kept apart from `reading` for that.
    #[serde(default)]
    pub note: String,
    /// The reading as it should have been; its own note is empty.
    pub reading: ReadingKept,
}
