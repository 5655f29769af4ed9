use super::money::cents;
use super::{end_before, page, photos};
use crate::view::TimelineEntry;
use ::job::event::{CopyChange, Event};
use ::job::{Job, TimelineRecord};
use std::collections::BTreeMap;

/// A page of the time-line, oldest first, one entry a record: the last ones before a place, or of all.
pub(crate) fn timeline(job: &Job, before: Option<u32>) -> Vec<TimelineEntry> {
    let records = page(&job.timeline, before);
    let end = before.map_or(job.timeline.len(), |before| end_before(job.timeline.len(), before));
    let first = end.saturating_sub(records.len()).saturating_add(1);
    (first..).zip(records).map(|(place, record)| entry(job, place, record)).collect()
}

fn entry(job: &Job, place: usize, record: &TimelineRecord) -> TimelineEntry {
    TimelineEntry {
        place: u32::try_from(place).unwrap_or(u32::MAX),
        record: record.record.to_string(),
        sequence: u32::try_from(record.sequence).unwrap_or(u32::MAX),
        kind: record.kind.clone(),
        kept: record.wall.clone(),
        values: values(job, record).into_iter().map(|(name, value)| (name.to_owned(), value)).collect(),
        photos: record.event.as_ref().map(|event| photos(job, &event.photos())).unwrap_or_default(),
        doubts: record.doubts.iter().map(|d| d.code().to_owned()).collect(),
    }
}

/// Short values for the entry's sentence.
fn values(job: &Job, record: &TimelineRecord) -> BTreeMap<&'static str, String> {
    let Some(event) = &record.event else { return BTreeMap::from([("detail", record.unusable.clone())]) };
    let pairs: Vec<(&'static str, String)> = match event {
        Event::JobOpened(e) => vec![("number", e.number.to_string()), ("name", e.technician.clone())],
        Event::IntakeKept(e) => {
            let codes: Vec<String> = e.fault_codes.iter().flatten().map(|code| code.written()).collect();
            vec![("fields", intake_fields(e)), ("codes", codes.join(", "))]
        }
        Event::PhotoKept(e) => {
            let found = if e.found_later { "true" } else { "" };
            let live = if e.live { "true" } else { "" };
            let (found, live) = (found.to_owned(), live.to_owned());
            vec![("purpose", super::code(&e.purpose)), ("found_later", found), ("live", live)]
        }
        Event::MeterChosen(e) => vec![("name", e.name.clone())],
        Event::CircuitChosen(e) => vec![("circuit", e.circuit.clone())],
        Event::PinNoted(e) => vec![("connector", e.connector.clone()), ("pin", e.pin.clone())],
        Event::CautionAcknowledged(e) => vec![("caution", e.caution.clone())],
        Event::TestUnreachable(e) => {
            vec![("test", e.test.clone()), ("unreachable", e.unreachable.to_string())]
        }
        Event::ReadingCorrected(e) if e.withdrawn => withdrawn(job, &e.corrects),
        Event::ReadingKept(_) | Event::ReadingCorrected(_) => reading(job, record),
        Event::FindingKept(e) => vec![
            ("outcome", super::code(&e.outcome)),
            ("cause_en", e.cause_en.clone()),
            ("cause_es", e.cause_es.clone()),
            ("probability", e.probability.clone()),
        ],
        Event::EstimateKept(e) => {
            vec![("version", e.estimate.version.to_string()), ("total", cents(e.totals.total))]
        }
        Event::ApprovalKept(e) => vec![
            ("version", e.version.to_string()),
            ("total", cents(e.amount)),
            ("name", e.name.clone()),
            ("channel", super::code(&e.channel)),
        ],
        Event::PartReceived(e) => vec![("name", e.description.clone()), ("total", cents(e.price))],
        Event::ProgrammingDecided(e) => {
            vec![("route", super::code(&e.route)), ("name", e.provider.clone()), ("total", cents(e.quoted))]
        }
        Event::ProgrammingReported(e) => {
            vec![("outcome", super::code(&e.outcome)), ("total", cents(e.billed))]
        }
        Event::FixProven(e) => vec![("before", value_of(job, &e.before)), ("after", value_of(job, &e.after))],
        Event::InvoiceKept(e) => {
            vec![("total", cents(e.totals.total)), ("name", e.invoice.number.clone())]
        }
        Event::CreditNoteKept(e) => vec![("total", cents(e.totals.total)), ("name", e.number.clone())],
        Event::PaymentKept(e) => {
            vec![("way", super::code(&e.way)), ("means", super::code(&e.means)), ("total", cents(e.amount))]
        }
        Event::SupplierStepKept(e) => {
            vec![("step", super::code(&e.step)), ("name", e.supplier.clone()), ("total", cents(e.amount))]
        }
        Event::EstimateWaived(e) => vec![("name", e.name.clone()), ("channel", super::code(&e.channel))],
        Event::ApprovalRequested(e) => {
            vec![("version", e.version.to_string()), ("channel", super::code(&e.channel))]
        }
        Event::ApprovalWithdrawn(e) => {
            vec![("name", e.name.clone()), ("channel", super::code(&e.channel))]
        }
        Event::ReportWritten(e) => vec![("name", e.name.clone())],
        Event::PhotoRedacted(e) => {
            let of = |change: CopyChange| e.redactions.iter().filter(move |copy| copy.change == change);
            let areas: usize = of(CopyChange::AreasCovered).map(|copy| copy.areas.len()).sum();
            vec![
                ("count", areas.to_string()),
                ("stripped", of(CopyChange::MetadataRemoved).count().to_string()),
                ("marked", of(CopyChange::MarksDrawn).count().to_string()),
            ]
        }
        Event::PhotoMarked(e) => vec![("count", e.marks.len().to_string()), ("texts", e.texts.join(" · "))],
        Event::PhotoMissing(e) => vec![("count", e.missing.len().to_string())],
        Event::Timestamp(e) => vec![("authority", e.authority.clone()), ("size", e.size.to_string())],
        Event::KeyChanged(e) => vec![("device", e.device.clone())],
        Event::KeyLost(e) => vec![("device", e.device.clone())],
        Event::DeviceAdded(e) => vec![("device", e.device.clone())],
        Event::RecordsTakenIn(e) => {
            vec![("first", e.first.saturating_add(1).to_string()), ("count", e.count.to_string())]
        }
        Event::CustomerForgotten(e) => vec![
            ("count", e.values.len().to_string()),
            ("files", e.files.len().to_string()),
            ("until", e.until.clone()),
        ],
        // Its name alone says enough.
        _ => vec![],
    };
    pairs.into_iter().collect()
}

fn intake_fields(intake: &::job::event::IntakeKept) -> String {
    let Ok(serde_json::Value::Object(fields)) = serde_json::to_value(intake) else { return String::new() };
    let named = fields.keys().filter(|name| *name != "emptied");
    named.chain(&intake.emptied).cloned().collect::<Vec<_>>().join(",")
}

fn reading(job: &Job, record: &TimelineRecord) -> Vec<(&'static str, String)> {
    let Some(reading) = job.reading(&record.record) else { return Vec::new() };
    let corrected = reading.corrects.as_ref().and_then(|(target, _)| job.reading(target));
    vec![
        ("number", reading.number.to_string()),
        ("value", reading.reading.value.clone()),
        ("unit", reading.reading.unit.code().to_owned()),
        ("lowest", reading.reading.lowest.clone()),
        ("highest", reading.reading.highest.clone()),
        ("condition", reading.reading.condition.as_ref().map(super::code).unwrap_or_default()),
        ("test", reading.reading.test.clone()),
        ("corrects", corrected.map(|r| r.number.to_string()).unwrap_or_default()),
    ]
}

/// What was taken back, by its number.
fn withdrawn(job: &Job, target: &evidence::Digest) -> Vec<(&'static str, String)> {
    let number = job.reading(target).map(|reading| reading.number.to_string()).unwrap_or_default();
    vec![("withdrawn", "true".to_owned()), ("corrects", number)]
}

fn value_of(job: &Job, record: &evidence::Digest) -> String {
    let reading = job.reading(record).map(|r| &r.reading);
    reading.map(|r| format!("{} {}", ::job::counted(job, r), r.unit.code())).unwrap_or_default()
}
