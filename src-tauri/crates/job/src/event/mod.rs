//! What can happen to a job: one struct per kind of record, with its [`Descriptor`] beside it.
//!
//! An event becomes a record's public body plus withheld values (names, phones, plates, free text): its descriptor says
//! which is which. A field never changes its meaning; a new meaning is a new field.

mod approval;
mod caution;
pub mod check;
mod circuit;
mod covering;
mod descriptor;
mod fault_code;
mod finding;
mod foreign;
mod forgetting;
mod hand_over;
mod intake;
mod invoice;
mod marking;
mod missing;
mod opening;
mod part;
mod payment;
mod photo;
mod pin;
mod programming;
mod proof;
mod reading;
mod request;
mod seen;
mod supplier;
mod taking_in;
mod waiver;
mod withdrawal;
mod written;

pub use approval::*;
pub use caution::*;
pub use check::Unusable;
pub use circuit::*;
pub use covering::*;
pub use descriptor::{Access, Descriptor, Field};
pub use fault_code::{FaultCode, FaultStatus, FrameLine, MOST_CODES, MOST_LINES};
pub use finding::*;
pub use forgetting::*;
pub use hand_over::*;
pub use intake::*;
pub use invoice::*;
pub use marking::*;
pub use missing::*;
pub use opening::*;
pub use part::*;
pub use payment::*;
pub use photo::*;
pub use pin::*;
pub use programming::*;
pub use proof::*;
pub use reading::*;
pub use request::*;
pub use seen::*;
pub use supplier::*;
pub use taking_in::*;
pub use waiver::*;
pub use withdrawal::*;
pub use written::*;

use crate::JobError;
use evidence::Digest;
use evidence::succession::{DeviceAdded, KeyChanged, KeyLost};
use evidence::timestamp::TimestampBody;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// What every kind of record says of itself.
pub trait RecordKind {
    /// Its fields, who may read them, how long they are kept.
    const DESCRIPTOR: Descriptor;

    /// Photos that it refers to, in order.
    fn photos(&self) -> Vec<Digest> {
        Vec::new()
    }

    /// Can it be used at all? Asked of every record, also of those that older versions and other devices sealed: only what
    /// can't be read or reckoned with fails.
    ///
    /// # Errors
    /// [`Unusable`] names the first field that can't be used.
    fn check(&self) -> Result<(), Unusable> {
        Ok(())
    }

    /// Does it hold only values that a new record may hold? Asked at the door, beyond [`RecordKind::check`].
    ///
    /// # Errors
    /// [`Unusable`] names the first field that doesn't.
    fn admissible(&self) -> Result<(), Unusable> {
        Ok(())
    }
}

/// The kinds of record: one line each.
macro_rules! events {
    ($($(#[$says:meta])* $kind:ident($body:ty),)*) => {
        /// One thing that happened, as it goes into a record and comes out of it.
        #[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
        #[serde(tag = "kind", content = "body", rename_all = "snake_case")]
        pub enum Event {
            $($(#[$says])* $kind($body),)*
        }

        /// Every kind of record.
        pub const DESCRIPTORS: &[Descriptor] = &[$(<$body as RecordKind>::DESCRIPTOR,)*];

        impl Event {
            /// What its kind says of itself.
            #[must_use]
            pub const fn descriptor(&self) -> Descriptor {
                match self {
                    $(Event::$kind(_) => <$body as RecordKind>::DESCRIPTOR,)*
                }
            }

            /// Photos that the event refers to, in order.
            #[must_use]
            pub fn photos(&self) -> Vec<Digest> {
                match self {
                    $(Event::$kind(body) => RecordKind::photos(body),)*
                }
            }

            /// Can it be used at all?
            ///
            /// # Errors
            /// [`Unusable`] names the first field that can't be used.
            pub fn check(&self) -> Result<(), Unusable> {
                match self {
                    $(Event::$kind(body) => RecordKind::check(body),)*
                }
            }

            /// Does it hold only values that a new record may hold?
            ///
            /// # Errors
            /// [`Unusable`] names the first field that doesn't.
            pub fn admissible(&self) -> Result<(), Unusable> {
                self.check()?;
                match self {
                    $(Event::$kind(body) => RecordKind::admissible(body),)*
                }
            }
        }
    };
}

events! {
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
    /// The customer does without the written estimate.
    EstimateWaived(EstimateWaived),
    /// The customer was asked for an approval.
    ApprovalRequested(ApprovalRequested),
    /// The customer answered, line by line.
    ApprovalKept(ApprovalKept),
    /// The customer took an approval back.
    ApprovalWithdrawn(ApprovalWithdrawn),
    /// A part was received.
    PartReceived(PartReceived),
    /// The programming route was decided.
    ProgrammingDecided(ProgrammingDecided),
    /// The outcome of the programming.
    ProgrammingReported(ProgrammingReported),
    /// The fix was proven.
    FixProven(FixProven),
    /// An invoice was written.
    InvoiceKept(InvoiceKept),
    /// A credit note was written.
    CreditNoteKept(CreditNoteKept),
    /// The customer paid, or got money back.
    PaymentKept(PaymentKept),
    /// A supplier quoted, billed, was paid, or took something back.
    SupplierStepKept(SupplierStepKept),
    /// The vehicle was handed over.
    HandedOver(HandedOver),
    /// A findings report was written.
    ReportWritten(ReportWritten),
    /// A copy of a photo was made that goes out in its place.
    PhotoRedacted(PhotoRedacted),
    /// Marks on a photo were placed, moved or taken off.
    PhotoMarked(PhotoMarked),
    /// The original of a photo is lost.
    PhotoMissing(PhotoMissing),
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
    /// Records that nobody had signed for were taken in.
    RecordsTakenIn(RecordsTakenIn),
}

/// An event taken apart for a record: kind, public body, withheld values in the order of the descriptor.
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
    ///
    /// # Errors
    /// [`JobError::Event`] when it can't be written as JSON.
    pub fn parts(&self) -> Result<RecordParts, JobError> {
        let whole = serde_json::to_value(self).map_err(|e| JobError::Event(e.to_string()))?;
        let descriptor = self.descriptor();
        let mut body = whole.get("body").and_then(Value::as_object).cloned().unwrap_or_default();
        let described: Vec<String> = descriptor.withheld().map(str::to_owned).collect();
        let undescribed = body.keys().filter(|name| descriptor.access(name) != Access::Public);
        let undescribed: Vec<String> =
            undescribed.filter(|name| !described.contains(name)).cloned().collect();
        let mut withheld = Vec::new();
        for name in described.into_iter().chain(undescribed) {
            match body.remove(&name) {
                Some(Value::String(text)) if text.is_empty() => {}
                Some(Value::Null) | None => {}
                Some(value) => withheld.push((name, value)),
            }
        }
        Ok(RecordParts { kind: descriptor.kind.to_owned(), body: Value::Object(body), withheld })
    }

    /// Puts an event together again. A withheld value that isn't at hand comes out empty.
    ///
    /// # Errors
    /// [`JobError::Event`] for a kind that isn't known, and for fields that its kind doesn't hold.
    pub fn from_parts(kind: &str, body: &Value, opened: &BTreeMap<String, Value>) -> Result<Event, JobError> {
        let mut fields: Map<String, Value> = body.as_object().cloned().unwrap_or_default();
        // What stands in the record itself can't be overwritten by a disclosure, and one that isn't described, from a
        // newer version, must not make the rest unusable.
        let described: Vec<&str> = descriptor_of(kind).into_iter().flat_map(|kind| kind.withheld()).collect();
        for (name, value) in opened.iter().filter(|(name, _)| described.contains(&name.as_str())) {
            fields.entry(name.clone()).or_insert_with(|| value.clone());
        }
        let whole = serde_json::json!({ "kind": kind, "body": fields });
        serde_json::from_value(whole).map_err(|e| JobError::Event(format!("{kind}: {e}")))
    }
}

/// What a kind of record says of itself; `None` for a kind that isn't known.
#[must_use]
pub fn descriptor_of(kind: &str) -> Option<&'static Descriptor> {
    DESCRIPTORS.iter().find(|descriptor| descriptor.kind == kind)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    /// Fields of every kind, as their types have them.
    fn fields_by_type() -> BTreeMap<String, BTreeSet<String>> {
        let schema = serde_json::to_value(schemars::schema_for!(Event)).unwrap();
        let resolve = |body: &Value| match body.get("$ref").and_then(Value::as_str) {
            Some(reference) => schema.pointer(reference.trim_start_matches('#')).unwrap().clone(),
            None => body.clone(),
        };
        let kinds = schema["oneOf"].as_array().unwrap().iter().map(|variant| {
            let kind = variant["properties"]["kind"]["const"].as_str().unwrap().to_owned();
            let body = resolve(&variant["properties"]["body"]);
            (kind, body["properties"].as_object().unwrap().keys().cloned().collect())
        });
        kinds.collect()
    }

    #[test]
    fn every_field_of_every_kind_says_who_may_read_it() {
        let described: BTreeMap<String, BTreeSet<String>> = DESCRIPTORS
            .iter()
            .map(|kind| (kind.kind.to_owned(), kind.fields.iter().map(|f| f.name.to_owned()).collect()))
            .collect();
        assert_eq!(described, fields_by_type());
    }

    #[test]
    fn a_value_that_only_a_newer_version_knows_spoils_nothing() {
        let body = serde_json::json!({ "make": "Arvel" });
        let opened = BTreeMap::from([
            ("customer".to_owned(), Value::String("Odalys Brandt".to_owned())),
            ("second_phone".to_owned(), Value::String("555 0142".to_owned())),
        ]);
        let event = Event::from_parts("intake_kept", &body, &opened).unwrap();
        let customer = Some("Odalys Brandt".to_owned());
        let intake = IntakeKept { make: Some("Arvel".into()), customer, ..IntakeKept::default() };
        assert_eq!(event, Event::IntakeKept(intake));
    }

    #[test]
    fn what_older_versions_took_can_still_be_used() {
        let amount = |amount: i64| money::Cents(amount);
        let billed = |billed: i64| {
            let outcome = ProgrammingOutcome::Failed;
            let text = String::new;
            Event::ProgrammingReported(ProgrammingReported {
                outcome,
                supply_volts: text(),
                software_before: text(),
                software_after: text(),
                billed: amount(billed),
                photos: vec![],
                corrects: None,
                checks: vec![],
                voltages: vec![],
                window: None,
            })
        };
        // A provider's refund, and a bill in a currency of small units.
        for cents in [-500, 1_200_000_000] {
            assert_eq!(billed(cents).check(), Ok(()));
            assert!(billed(cents).admissible().is_err(), "{cents} is not taken any more");
        }
        assert_eq!(billed(19_500).admissible(), Ok(()));
    }

    #[test]
    fn a_disclosure_overwrites_nothing_that_stands_in_the_record() {
        let body = serde_json::json!({ "caution": "battery" });
        let opened = BTreeMap::from([("caution".to_owned(), Value::String("none".to_owned()))]);
        let event = Event::from_parts("caution_acknowledged", &body, &opened).unwrap();
        assert_eq!(event, Event::CautionAcknowledged(CautionAcknowledged { caution: "battery".into() }));
    }
}
