//! Whatever the door accepts folds, weighs, shows, reports, exports and verifies: events of every kind with arbitrary
//! values in their fields are put through it, past every form.

mod folds;
mod samples;

use crate::Workshop;
use crate::entry::{Form, JobsEntry, PacketEntry, ReportEntry};
use crate::world::SetClock;
use chrono::DateTime;
use job::event::DESCRIPTORS;
use job::{Event, Recipient};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::sync::Arc;

/// Values that forms, files and other devices have brought: none of them may brick a job.
fn nasty() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(json!("")),
        Just(json!("-5")),
        Just(json!("-500")),
        Just(json!("0")),
        Just(json!("-0.00")),
        Just(json!("12.40")),
        Just(json!("99999999999999999999999")),
        Just(json!("9223372036854775807")),
        Just(json!("NaN")),
        Just(json!("inf")),
        Just(json!("1e309")),
        Just(json!("OL")),
        Just(json!("yes")),
        Just(json!("\u{0}\u{7}\u{202e}")),
        Just(json!("<b>#panic(\"x\")</b> $x^2$ \\ 💥 \u{202e} المروحة")),
        Just(json!("x".repeat(30_000))),
        Just(json!(0)),
        Just(json!(-1)),
        Just(json!(u32::MAX)),
        Just(json!(i64::MIN)),
        Just(json!(true)),
        Just(json!(null)),
        Just(json!([])),
        Just(json!({})),
        Just(json!(["00".repeat(32)])),
        any::<String>().prop_map(Value::String),
        any::<u32>().prop_map(|number| json!(number)),
        any::<i64>().prop_map(|number| json!(number.to_string())),
    ]
}

/// Every place of a JSON value that holds no further places, and the empty ones that might.
fn leaves(value: &Value, place: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(fields) if !fields.is_empty() => {
            fields.iter().for_each(|(name, field)| leaves(field, &format!("{place}/{name}"), found));
        }
        Value::Array(items) if !items.is_empty() => {
            items.iter().zip(0..).for_each(|(item, index)| leaves(item, &format!("{place}/{index}"), found));
        }
        _ => found.push(place.to_owned()),
    }
}

/// A change: which sample, which of its places, what stands there instead.
fn change() -> impl Strategy<Value = (prop::sample::Index, prop::sample::Index, Value)> {
    (any::<prop::sample::Index>(), any::<prop::sample::Index>(), nasty())
}

fn changed(samples: &[Event], change: &(prop::sample::Index, prop::sample::Index, Value)) -> Option<Event> {
    let (sample, place, value) = change;
    let mut whole = serde_json::to_value(&samples[sample.index(samples.len())]).unwrap();
    let mut places = Vec::new();
    leaves(&whole["body"], "/body", &mut places);
    *whole.pointer_mut(&places[place.index(places.len())]).unwrap() = value.clone();
    // What its type can't hold never reaches the door.
    serde_json::from_value(whole).ok()
}

fn cases() -> u32 {
    if std::env::var_os("TESTIMETER_FULL").is_some() { 8 } else { 2 }
}

#[test]
fn there_is_a_sample_of_every_kind() {
    let folder = tempfile::tempdir().unwrap();
    let (workshop, job) = samples::shop(folder.path());
    let samples = samples::of(&workshop, &job);
    for descriptor in DESCRIPTORS {
        assert!(
            samples.iter().any(|event| event.descriptor().kind == descriptor.kind),
            "{}",
            descriptor.kind
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn what_the_door_accepts_bricks_no_job(changes in prop::collection::vec(change(), 80)) {
        let folder = tempfile::tempdir().unwrap();
        let (workshop, job) = samples::shop(folder.path());
        let samples = samples::of(&workshop, &job);
        let mut accepted = 0;
        for change in &changes {
            let Some(event) = changed(&samples, change) else { continue };
            if workshop.change(&Form::from(&job), |_| Ok(Some(event.clone()))).is_err() {
                continue;
            }
            accepted += 1;
            let folded = workshop.load_from_records(&job).unwrap().job;
            prop_assert!(folded.unusable().next().is_none(), "{event:?}");
            // Weighing takes longest: not after each of them.
            if accepted % 16 == 0 {
                prop_assert!(shows_whole(&workshop, &job), "{event:?}");
            }
        }
        prop_assert!(shows_whole(&workshop, &job));
        prop_assert!(accepted > 0, "nothing passed: the property would say nothing");
        for recipient in Recipient::ALL {
            let written = workshop.report_write(&job, &ReportEntry::full("es", recipient));
            prop_assert!(written.is_ok(), "{:?}", written.err());
            let verdict = workshop.packet_write(&job, &PacketEntry::preset("en", recipient)).unwrap();
            prop_assert!(verdict.good, "{:?}", verdict.problems);
        }
        prop_assert!(workshop.open_export().is_ok());
        drop(workshop);
        let again = Workshop::open_at(folder.path(), clock()).unwrap();
        prop_assert!(again.job_view(&job).unwrap().notices.is_empty());
        prop_assert_eq!(again.jobs_search(&JobsEntry::of("")).unwrap().rows.len(), 1);
    }
}

/// The job is shown, with its reasoning, and nothing of it is noticed.
fn shows_whole(workshop: &Workshop, job: &str) -> bool {
    workshop.job_view(job).is_ok_and(|view| view.notices.is_empty() && view.diagnosis.is_some())
}

fn clock() -> Arc<SetClock> {
    Arc::new(SetClock::at(DateTime::parse_from_rfc3339("2026-10-12T08:00:00-05:00").unwrap()))
}
