//! The job that is kept in memory is the job of its records, whatever happened to either.

use super::{cases, change, changed, clock, samples};
use crate::Workshop;
use crate::entry::{Form, IntakeEntry};
use evidence::{Checkpoint, DeviceKey, Disclosure, LogId, Moment, NewRecord, Sealed, seal, tree};
use job::Event;
use job::event::IntakeKept;
use proptest::prelude::*;
use std::collections::BTreeMap;
use store::{CopiedRecord, LogCopy};

/// What is kept in memory says the same as the records, to the last field.
fn same(workshop: &Workshop, job: &str) -> bool {
    let told = |loaded: &crate::act::Loaded| format!("{:?} {:?}", loaded.job, loaded.ends);
    told(&workshop.load(job).unwrap()) == told(&workshop.load_from_records(job).unwrap())
}

/// The job is in memory: looking twice gives the same one.
fn is_kept(workshop: &Workshop, job: &str) -> bool {
    std::sync::Arc::ptr_eq(&workshop.load(job).unwrap(), &workshop.load(job).unwrap())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn after_every_action_memory_says_what_the_records_say(changes in prop::collection::vec(change(), 40)) {
        let folder = tempfile::tempdir().unwrap();
        let (workshop, job) = samples::shop(folder.path());
        let samples = samples::of(&workshop, &job);
        for event in samples.clone().into_iter().chain(changes.iter().filter_map(|one| changed(&samples, one))) {
            // Refused or kept: both must leave memory right.
            let _ = workshop.change(&Form::from(&job), |_| Ok(Some(event.clone())));
            prop_assert!(is_kept(&workshop, &job));
            prop_assert!(same(&workshop, &job), "{event:?}");
        }
    }
}

/// A record of another device with one withheld value.
fn elsewhere(workshop: &Workshop, job: &str) -> (LogId, Sealed) {
    // Its key was compared before.
    workshop.store.keep_public_key("device-elsewhere", &key_elsewhere().public_pem().unwrap()).unwrap();
    let log = LogId { device: "device-elsewhere".into(), ..workshop.log(job).unwrap() };
    let told = IntakeKept { customer: Some("Tamsin Okafor".into()), ..IntakeKept::default() };
    let parts = Event::IntakeKept(told).parts().unwrap();
    let moment = Moment { wall: "2026-10-12T09:00:00.000-05:00".into(), elapsed_ms: 1, boot: "b".into() };
    let (kind, body, withheld) = (parts.kind, parts.body, parts.withheld);
    let new = NewRecord { kind, moment, others: BTreeMap::new(), photos: Vec::new(), body, withheld };
    let sealed = seal(&log, &workshop.store.head(&log).unwrap(), new, &mut || [9; 16]).unwrap();
    (log, sealed)
}

fn key_elsewhere() -> DeviceKey {
    DeviceKey::from_seed([77; 32])
}

/// The first record of that log, signed for.
fn copy(log: &LogId, sealed: &Sealed, disclosures: Vec<Disclosure>) -> LogCopy {
    let head = Checkpoint { origin: log.origin(), size: 1, root: tree::root(&[sealed.leaf]) };
    let signature = Some(key_elsewhere().sign_bytes(head.text().as_bytes()));
    let records = vec![CopiedRecord { bytes: sealed.bytes.clone(), disclosures, signature }];
    LogCopy { records, ..LogCopy::new(log.clone()) }
}

#[test]
fn what_comes_from_elsewhere_is_seen_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let (workshop, job) = samples::shop(folder.path());
    let before = workshop.load(&job).unwrap().records();
    let (log, sealed) = elsewhere(&workshop, &job);
    // First the record alone, then, in a second copy, the value that it withholds.
    workshop.store.foreign_append(&copy(&log, &sealed, Vec::new())).unwrap();
    let (after, told) = (workshop.load(&job).unwrap(), |job: &job::Job| job.intake.customer.clone());
    assert_eq!((after.records(), told(&after.job)), (before + 1, None));
    assert!(same(&workshop, &job));
    workshop.store.foreign_append(&copy(&log, &sealed, sealed.disclosures.clone())).unwrap();
    assert_eq!(told(&workshop.load(&job).unwrap().job).as_deref(), Some("Tamsin Okafor"));
    assert!(same(&workshop, &job));
    // And an action goes on from all of it.
    let entry = IntakeEntry { plate: Some("7KX-042".into()), ..IntakeEntry::default() };
    let view = workshop.intake_keep(&job, &entry).unwrap();
    assert_eq!((u64::from(view.records), view.intake.customer.as_str()), (before + 2, "Tamsin Okafor"));
    assert!(same(&workshop, &job) && is_kept(&workshop, &job));
}

#[test]
fn what_is_forgotten_is_forgotten_in_memory() {
    let folder = tempfile::tempdir().unwrap();
    let (workshop, job) = samples::shop(folder.path());
    let entry = IntakeEntry { email: Some("odalys@example.com".into()), ..IntakeEntry::default() };
    workshop.intake_keep(&job, &entry).unwrap();
    let held = || format!("{:?}", workshop.load(&job).unwrap().job).contains("odalys@example.com");
    assert!(held());
    workshop.customer_forget(&job).unwrap();
    assert!(!held());
    assert!(same(&workshop, &job));
}

/// A job that was being read while something of it was destroyed must not come to stay.
#[test]
fn what_was_read_before_everything_was_dropped_is_not_kept() {
    let folder = tempfile::tempdir().unwrap();
    let (workshop, job) = samples::shop(folder.path());
    let read = workshop.load_from_records(&job).unwrap();
    workshop.folds.drop_all();
    let read = workshop.keep_fold(read);
    assert!(!std::sync::Arc::ptr_eq(&read, &workshop.load(&job).unwrap()));
}

/// The record was folded already when the store refuses it; nothing of it may stay.
#[test]
fn a_record_that_could_not_be_kept_leaves_no_trace_in_memory() {
    let folder = tempfile::tempdir().unwrap();
    let (workshop, job) = samples::shop(folder.path());
    let samples = samples::of(&workshop, &job);
    let names_photo = |event: &&Event| matches!(event, Event::ReadingKept(_)) && !event.photos().is_empty();
    let reading = samples.iter().find(names_photo).unwrap();
    let original = workshop.store.original_path(&reading.photos()[0]).unwrap();
    let aside = folder.path().join("aside");
    std::fs::rename(&original, &aside).unwrap();
    let before = workshop.load(&job).unwrap().records();
    let keep = || workshop.change(&Form::from(&job), |_| Ok(Some(reading.clone())));
    assert!(keep().is_err());
    assert_eq!(workshop.load(&job).unwrap().records(), before);
    assert!(same(&workshop, &job));
    std::fs::rename(&aside, &original).unwrap();
    assert_eq!(keep().unwrap().records(), before + 1);
    assert!(same(&workshop, &job));
}

/// Few jobs are held, the newest use first, and every one that was opened stays right.
#[test]
fn only_the_last_few_jobs_are_held() {
    let folder = tempfile::tempdir().unwrap();
    let workshop = {
        let (workshop, _) = samples::shop(folder.path());
        workshop
    };
    let jobs: Vec<String> = (0..6).map(|_| workshop.job_open().unwrap().job).collect();
    let heads = |job: &str| workshop.store.job_heads(job).unwrap();
    let held = jobs.iter().filter(|job| workshop.folds.get(job, &heads(job)).is_some()).count();
    assert_eq!(held, 4);
    assert!(jobs.iter().all(|job| same(&workshop, job)));
    drop(workshop);
    assert!(Workshop::open_at(folder.path(), clock()).is_ok());
}
