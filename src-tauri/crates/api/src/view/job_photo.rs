use super::PhotoView;
use job::event::ReadingCondition;
use job::measured::Unit;
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// A photo of a job and what it belongs to.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct JobPhotoView {
    /// The photo.
    pub photo: PhotoView,
    /// The part of the job it belongs to.
    pub step: PhotoStep,
    /// Readings that name it, oldest first.
    pub readings: Vec<PhotoReadingView>,
    /// A report that was written lists it, or a packet handed it out as it is or as a copy.
    pub in_papers: bool,
}

/// The part of a job that a photo belongs to, in the order of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum PhotoStep {
    /// The vehicle as it came in.
    Intake,
    /// Meter, connectors, wires.
    Readings,
    /// The repair, and readings that prove it.
    Proof,
    /// Parts, receipts, programming.
    Papers,
}

/// A reading that names a photo.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PhotoReadingView {
    /// Its record.
    pub record: String,
    /// Running number in the job.
    pub number: u32,
    /// Test of the circuit it answers, or empty.
    pub test: String,
    /// Value as on record; empty where only a recording was read.
    pub value: String,
    /// Unit as the meter showed it.
    pub unit: Unit,
    /// Highest value of a range that was chosen by hand; else empty.
    pub range: String,
    /// Lowest of a recording; else empty.
    pub lowest: String,
    /// Highest of a recording; else empty.
    pub highest: String,
    /// What was done meanwhile; null where the circuit was left alone.
    pub condition: Option<ReadingCondition>,
    /// False once it was corrected or taken back.
    pub counts: bool,
}
