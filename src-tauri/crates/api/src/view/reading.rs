use super::PhotoView;
use job::MeterMode;
use job::event::{ComplaintPresent, ReadingCondition, SeenDecision};
use job::measured::Unit;
use job::rule::seen::{SeenLook, SeenRemark, SeenSays};
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;
use ts_rs::TS;

/// One reading as it is on record.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ReadingView {
    /// The record's leaf hash.
    pub record: String,
    /// Running number in the job, from 1.
    pub number: u32,
    /// Wall time with offset.
    pub kept: String,
    /// Test of the circuit it answers, or empty.
    pub test: String,
    /// Value as it was entered, in canonical decimal form, or `OL`, `yes`, `no`; empty where only a recording was read.
    pub value: String,
    /// Unit as the meter showed it: mV, V, ohm, kohm, Mohm, mA, A, %, yes_no.
    pub unit: Unit,
    /// Meter mode.
    pub mode: MeterMode,
    /// Highest value of the range that was chosen by hand, in the same unit; else empty.
    pub range: String,
    /// Lowest value of a minimum/maximum recording, in the same unit; else empty.
    pub lowest: String,
    /// Highest value of such a recording; else empty.
    pub highest: String,
    /// What was done to the circuit meanwhile; null where it was left alone.
    pub condition: Option<ReadingCondition>,
    /// Red lead's point.
    pub red: String,
    /// Black lead's point.
    pub black: String,
    /// Pin in doubt under the red lead, instead of a point: connector and number, or empty.
    pub red_pin: String,
    /// Pin in doubt under the black lead, or empty.
    pub black_pin: String,
    /// Positions of everything that can be switched or plugged; the key among them.
    pub state: BTreeMap<String, String>,
    /// Substitute load, or empty.
    pub load: String,
    /// Whether the complaint was present: yes, no, unknown.
    pub complaint_present: ComplaintPresent,
    /// Lead placement number: the same number means the leads were not placed anew.
    pub placement: u32,
    /// Note.
    pub note: String,
    /// What a healthy circuit would have shown, in the reading's unit; null when unknown.
    pub expected: Option<f64>,
    /// Photos of the meter.
    pub photos: Vec<PhotoView>,
    /// The number that the last of them was read as; null where none was proposed.
    pub seen: Option<SeenView>,
    /// The record that corrects this one, or empty.
    pub corrected_by: String,
    /// It was taken back: that record puts nothing in its place.
    pub withdrawn: bool,
    /// The record that this one corrects, or empty.
    pub corrects: String,
    /// Why it was corrected.
    pub correction_reason: String,
}

/// What a reading's record says about the number that its photo was read as.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct SeenView {
    /// As the display writes it: `6.02`, `039.5`, `OL`.
    pub value: String,
    /// What became of it.
    pub decision: SeenDecision,
    /// What was kept says something else: the technician was asked, and kept it.
    pub kept_against: bool,
}

/// What the photo of a reading seems to show, before the reading is kept.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ProposalView {
    /// The photo.
    pub photo: String,
    /// The number as a record would spell it; empty where nothing can be proposed.
    pub value: String,
    /// How surely.
    pub says: SeenSays,
    /// Why it is to be looked at, although it was read surely.
    pub look: Vec<SeenLook>,
    /// What doesn't fit between it and the reading; null where everything does.
    pub remark: Option<SeenRemark>,
}
