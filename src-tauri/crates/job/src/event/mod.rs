//! What can happen to a job: one struct per kind of record.
//!
//! An event becomes a record's public body plus withheld values (names, phones, plates, free text): see [`WITHHELD`].
//! A field never changes its meaning; a new meaning is a new field.

mod approval;
mod caution;
mod circuit;
mod covering;
mod finding;
mod forgetting;
mod hand_over;
mod intake;
mod invoice;
mod opening;
mod part;
mod photo;
mod pin;
mod programming;
mod proof;
mod reading;
mod written;

pub use approval::*;
pub use caution::*;
pub use circuit::*;
pub use covering::*;
pub use finding::*;
pub use forgetting::*;
pub use hand_over::*;
pub use intake::*;
pub use invoice::*;
pub use opening::*;
pub use part::*;
pub use photo::*;
pub use pin::*;
pub use programming::*;
pub use proof::*;
pub use reading::*;
pub use written::*;

use crate::JobError;
use evidence::Digest;
use evidence::succession::{DeviceAdded, KeyChanged, KeyLost};
use evidence::timestamp::TimestampBody;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// One thing that happened, as it goes into a record and comes out of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(tag = "kind", content = "body", rename_all = "snake_case")]
pub enum Event {
    /// The job was opened.
    JobOpened(JobOpened),
    /// Fields of the intake were entered.
    IntakeKept(IntakeKept),
    /// A photo was kept.
    PhotoKept(PhotoKept),
    /// A meter was chosen.
    MeterChosen(MeterChosen),
    /// A circuit was chosen.
    CircuitChosen(CircuitChosen),
    /// A pin was noted.
    PinNoted(PinNoted),
    /// A caution was acknowledged.
    CautionAcknowledged(CautionAcknowledged),
    /// A test can't be reached, or can again.
    TestUnreachable(TestUnreachable),
    /// A reading was kept.
    ReadingKept(ReadingKept),
    /// A reading was corrected.
    ReadingCorrected(ReadingCorrected),
    /// A finding was kept.
    FindingKept(FindingKept),
    /// A version of the estimate was kept.
    EstimateKept(EstimateKept),
    /// The customer approved.
    ApprovalKept(ApprovalKept),
    /// A part was received.
    PartReceived(PartReceived),
    /// The programming route was decided.
    ProgrammingDecided(ProgrammingDecided),
    /// The outcome of the programming.
    ProgrammingReported(ProgrammingReported),
    /// The fix was proven.
    FixProven(FixProven),
    /// The invoice was kept.
    InvoiceKept(InvoiceKept),
    /// The vehicle was handed over.
    HandedOver(HandedOver),
    /// A findings report was written.
    ReportWritten(ReportWritten),
    /// A copy of a photo with covered areas was made.
    PhotoRedacted(PhotoRedacted),
    /// Personal values were destroyed on request.
    CustomerForgotten(CustomerForgotten),
    /// An authority stamped a checkpoint with its time.
    Timestamp(TimestampBody),
    /// The device's old key named its new one.
    KeyChanged(KeyChanged),
    /// A key was lost; another takes its place.
    KeyLost(KeyLost),
    /// A key of the shop named the key of another device.
    DeviceAdded(DeviceAdded),
}

/// Personal and free-text fields by kind of record. They live in disclosures only; the record holds their salted digests.
pub const WITHHELD: &[(&str, &[&str])] = &[
    ("job_opened", &["technician"]),
    ("intake_kept", &["vin", "plate", "complaint", "customer", "phone", "email", "approver"]),
    ("meter_chosen", &["name"]),
    ("pin_noted", &["function", "note"]),
    ("reading_kept", &["note"]),
    ("reading_corrected", &["reason", "note"]),
    ("finding_kept", &["words"]),
    ("approval_kept", &["name", "words", "signature"]),
    ("part_received", &["return_terms", "warranty"]),
    ("programming_decided", &["appointment", "reason"]),
    ("fix_proven", &["note"]),
    ("handed_over", &["warranty", "old_parts"]),
];

/// An event taken apart for a record: kind, public body, withheld values in the order of [`WITHHELD`].
#[derive(Clone, Debug, PartialEq)]
pub struct RecordParts {
    /// Kind of the record.
    pub kind: String,
    /// Public body.
    pub body: Value,
    /// Withheld values by field name.
    pub withheld: Vec<(String, Value)>,
}

impl Event {
    /// Takes the event apart. Empty withheld values are left out: an empty note is nobody's secret.
    pub fn parts(&self) -> Result<RecordParts, JobError> {
        let whole = serde_json::to_value(self).map_err(|e| JobError::Event(e.to_string()))?;
        let kind = whole.get("kind").and_then(Value::as_str).unwrap_or_default().to_owned();
        let mut body = whole.get("body").and_then(Value::as_object).cloned().unwrap_or_default();
        let mut withheld = Vec::new();
        for name in withheld_fields(&kind) {
            match body.remove(*name) {
                Some(Value::String(text)) if text.is_empty() => {}
                Some(Value::Null) | None => {}
                Some(value) => withheld.push(((*name).to_owned(), value)),
            }
        }
        Ok(RecordParts { kind, body: Value::Object(body), withheld })
    }

    /// Puts an event together again. A withheld value that isn't at hand comes out empty.
    pub fn from_parts(kind: &str, body: &Value, opened: &BTreeMap<String, Value>) -> Result<Event, JobError> {
        let mut fields: Map<String, Value> = body.as_object().cloned().unwrap_or_default();
        for (name, value) in opened {
            if withheld_fields(kind).contains(&name.as_str()) {
                fields.insert(name.clone(), value.clone());
            }
        }
        let whole = serde_json::json!({ "kind": kind, "body": fields });
        serde_json::from_value(whole).map_err(|e| JobError::Event(format!("{kind}: {e}")))
    }

    /// Photos that the event refers to, in order.
    pub fn photos(&self) -> Vec<Digest> {
        match self {
            Event::PhotoKept(e) => vec![e.sha256],
            Event::PinNoted(e) => e.photos.clone(),
            Event::ReadingKept(e) => e.photos.clone(),
            Event::ReadingCorrected(e) => e.reading.photos.clone(),
            Event::PartReceived(e) => e.photos.clone(),
            Event::ProgrammingReported(e) => e.photos.clone(),
            Event::HandedOver(e) => e.photos.clone(),
            _ => Vec::new(),
        }
    }
}

/// Withheld fields of one kind of record.
pub fn withheld_fields(kind: &str) -> &'static [&'static str] {
    WITHHELD.iter().find(|(name, _)| *name == kind).map_or(&[], |(_, fields)| fields)
}
