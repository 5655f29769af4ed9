pub use job::MeterMode;
pub use job::event::{ComplaintPresent, ReadingCondition};
pub use job::measured::Unit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use ts_rs::TS;

/// A reading as it is entered at the vehicle.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct ReadingEntry {
    /// Test of the circuit it answers, or empty.
    pub test: String,
    /// Value as typed ("12.4", "12,4", "OL", "-0.00") or `yes`/`no`; empty where only the lowest or the highest of a recording was
    /// read.
    pub value: String,
    /// Unit as the meter shows it.
    pub unit: Unit,
    /// Meter mode.
    pub mode: MeterMode,
    /// Highest value that the range shows, in the same unit, where it was chosen by hand; else empty.
    #[serde(default)]
    pub range: String,
    /// Lowest value of a minimum/maximum recording as typed, in the same unit; empty where none was made.
    #[serde(default)]
    pub lowest: String,
    /// Highest value of such a recording.
    #[serde(default)]
    pub highest: String,
    /// What was done to the circuit meanwhile; null where it was left alone.
    #[serde(default)]
    pub condition: Option<ReadingCondition>,
    /// Red lead's point, empty for a look.
    pub red: String,
    /// Black lead's point, empty for a look.
    pub black: String,
    /// Pin in doubt under the red lead, instead of a point: connector and number (`module_connector/4`), or empty.
    #[serde(default)]
    pub red_pin: String,
    /// Pin in doubt under the black lead, or empty.
    #[serde(default)]
    pub black_pin: String,
    /// Positions of what can be switched or plugged, `unknown` where nobody knows. What is left out is as the test wants it;
    /// without a test it is `unknown`.
    pub state: BTreeMap<String, String>,
    /// Substitute load, or empty.
    pub load: String,
    /// Whether the complaint was present.
    pub complaint_present: ComplaintPresent,
    /// True when the leads were placed anew since the last reading.
    pub leads_placed_anew: bool,
    /// Note.
    pub note: String,
    /// Photos kept before, by hash.
    pub photos: Vec<String>,
    /// The number that the last photo was read as was taken over with a tap.
    #[serde(default)]
    pub photo_taken: bool,
    /// The technician was told that the photo seems to show another number, and keeps what was entered.
    #[serde(default)]
    pub kept_against_photo: bool,
}

/// Asks what the photo of a reading seems to show.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct SeenEntry {
    /// Photo kept before, by hash.
    pub photo: String,
    /// Meter mode of the reading.
    pub mode: MeterMode,
    /// Unit of the reading.
    pub unit: Unit,
    /// Highest value of a range chosen by hand, in that unit; else empty.
    #[serde(default)]
    pub range: String,
}

/// A correction: a new record that names what it corrects and why.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct CorrectionEntry {
    /// Record that is corrected.
    pub corrects: String,
    /// Why.
    pub reason: String,
    /// The reading as it should have been.
    pub reading: ReadingEntry,
}

/// Takes a reading back: it counts nowhere from then on, and stays on the time-line.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct WithdrawalEntry {
    /// Record that is taken back.
    pub corrects: String,
    /// Why.
    pub reason: String,
}

/// A finding in the technician's own words; result and readings are frozen with it.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct FindingEntry {
    /// Own words.
    pub words: String,
    /// Cause id that is called, or empty. A module's cause is refused unless the gate is open.
    pub cause: String,
    /// True for "not proven yet": then no cause is called. Neither the one nor the other is refused.
    #[serde(default)]
    pub not_proven: bool,
}

/// Before and after, the same test.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct ProofEntry {
    /// Reading before (its record).
    pub before: String,
    /// Reading after (its record).
    pub after: String,
    /// Note: road test, codes cleared and read again.
    pub note: String,
}
