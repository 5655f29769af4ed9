//! What goes in comes out: lists and search, logs of several devices, drafts and intents.

use evidence::{Digest, LogId, seal};
use proptest::prelude::*;
use serde_json::json;
use store::{AppendRequest, JobMark, JobRow, JobSummary, OpenOptions, Store, StoreError};

use crate::sample::{JOB, keep_next, log, new_record, sign, summary};

struct Opened {
    store: Store,
    _folder: tempfile::TempDir,
}

fn empty() -> Opened {
    let folder = tempfile::tempdir().unwrap();
    Opened { store: Store::open(folder.path(), &OpenOptions::default()).unwrap(), _folder: folder }
}

/// Appends a record without photos to a log, with the summary it is given.
fn append(store: &Store, log: &LogId, summary: Option<&JobSummary>) -> Result<Digest, StoreError> {
    let head = store.head(log)?;
    let mut new = new_record(head.size, vec![]);
    new.others = store.other_heads(log)?;
    let sealed = seal(log, &head, new, &mut || [3; 16])?;
    store
        .append(&AppendRequest { summary, ..AppendRequest::new(log, &sealed, sign(store, log, &sealed)?) })?;
    Ok(sealed.leaf)
}

fn job(number: u64, customer: &str, vehicle: &str, search_text: &str) -> (LogId, JobSummary) {
    let id = format!("job-{number}");
    let row = JobRow {
        job: id.clone(),
        number,
        customer: customer.into(),
        vehicle: vehicle.into(),
        ..summary(0).row
    };
    (
        LogId { job: id, ..log() },
        JobSummary { row, search_text: search_text.into(), cache: vec![], cache_records: 1 },
    )
}

/// Three invented jobs; the VIN's check digit holds, and its maker code ZZ9 is unassigned (from memory).
fn three_jobs() -> Opened {
    let opened = empty();
    for (log, summary) in [
        job(1, "Ana Ñuflo", "2024 Calder Wren", "7KX-042 ZZ9AB3CD6EF678901 rear lamps dim"),
        job(2, "Bo Okafor", "2019 Tarn Pilot", "PLM 880 (555) 010-0199 stalls at idle"),
        job(41, "Ana Petrov", "2021 Calder Heron", "no crank after rain"),
    ] {
        append(&opened.store, &log, Some(&summary)).unwrap();
    }
    opened
}

#[test]
fn jobs_are_found_by_what_people_type() {
    let opened = three_jobs();
    let check = |typed: &str, expected: &[u64]| {
        let found: Vec<u64> =
            opened.store.jobs(typed, 10, None).unwrap().rows.iter().map(|row| row.number).collect();
        assert_eq!(found, expected, "{typed:?}");
    };
    check("", &[41, 2, 1]);
    check("ana", &[41, 1]);
    check("ANA wr", &[1]);
    check("nuflo", &[1]);
    check("ñuf", &[1]);
    check("7kx042", &[1]);
    check("7KX-042", &[1]);
    check("zz9ab3cd6ef678901", &[1]);
    check("EF678901", &[1]);
    check("678901", &[1]);
    check("plm880", &[2]);
    check("plm 880", &[2]);
    check("0100199", &[2]);
    for typed in ["5550100199", "555-010-0199", "15550100199", "+1 (555) 010", "555 01"] {
        check(typed, &[2]);
    }
    check("41", &[41]);
    check("4", &[41]);
    check("idle stalls", &[2]);
    check("calder tarn", &[]);
    check("***", &[]);
    check("ana OR bo", &[]);
    check("NOT ana", &[]);
    check("words:ana", &[]);
    check("\"ana", &[41, 1]);
    check("ana'; DROP TABLE jobs; --", &[]);
    check("%", &[]);
}

#[test]
fn the_list_is_narrowed_by_stage_and_by_what_is_awaited() {
    let opened = empty();
    let store = &opened.store;
    let states = [("measuring", ""), ("estimate", "customer"), ("repair", "part appointment")];
    for (number, (stage, waiting)) in (1..).zip(states) {
        let (log, mut summary) = job(number, "Ana Petrov", "2021 Calder Heron", "no crank");
        (summary.row.stage, summary.row.waiting) = (stage.into(), waiting.into());
        append(store, &log, Some(&summary)).unwrap();
    }
    let found = |mark, typed| {
        let page = store.jobs_with(Some(mark), typed, 10, None).unwrap();
        page.rows.iter().map(|row| row.number).collect::<Vec<_>>()
    };
    assert_eq!(found(JobMark::Stage("repair"), ""), [3]);
    assert_eq!(found(JobMark::Waiting("customer"), "ana"), [2]);
    assert!(found(JobMark::Waiting("customer"), "bo").is_empty());
    assert_eq!(found(JobMark::Waiting("appointment"), ""), [3]);
    assert!(found(JobMark::Waiting("part"), "***").is_empty());
    // A mark is no word that a search finds.
    for typed in ["waitspart", "stage", "repair"] {
        assert_eq!(store.jobs(typed, 10, None).unwrap().rows, [], "{typed}");
    }
    let (log, mut moved) = job(3, "Ana Petrov", "2021 Calder Heron", "no crank");
    moved.row.stage = "handed_over".into();
    append(store, &log, Some(&moved)).unwrap();
    assert_eq!(
        (found(JobMark::Stage("handed_over"), ""), found(JobMark::Waiting("part"), "")),
        (vec![3], vec![])
    );
}

proptest! {
    /// Whatever is typed, the answer is a list and never an error.
    #[test]
    fn no_query_is_an_error(typed in any::<String>()) {
        thread_local!(static OPENED: Opened = three_jobs());
        OPENED.with(|opened| opened.store.jobs(&typed, 5, None)).unwrap();
        OPENED.with(|opened| opened.store.jobs_with(Some(JobMark::Waiting(&typed)), &typed, 5, None)).unwrap();
    }
}

#[test]
fn a_changed_job_moves_up_and_is_found_by_its_new_words_only() {
    let opened = three_jobs();
    let store = &opened.store;
    let (log, mut summary) = job(1, "Ana Ñuflo", "2024 Calder Wren", "left door lock");
    summary.cache = b"folded".to_vec();
    summary.cache_records = 2;
    append(store, &log, Some(&summary)).unwrap();
    let numbers =
        |typed| store.jobs(typed, 10, None).unwrap().rows.iter().map(|row| row.number).collect::<Vec<_>>();
    assert_eq!((numbers(""), numbers("door"), numbers("7kx")), (vec![1, 41, 2], vec![1], vec![]));
    let caches = store.fold_caches(&summary.row.stage).unwrap();
    assert!(caches.contains(&("job-1".to_owned(), b"folded".to_vec())), "{caches:?}");
    let first = store.jobs("", 1, None).unwrap();
    let page: Vec<_> = store.jobs("", 1, first.next).unwrap().rows.iter().map(|row| row.number).collect();
    assert_eq!((first.left, page, store.next_job_number().unwrap()), (2, vec![41], 42));
    append(store, &job(2, "", "", "").0, None).unwrap();
    assert_eq!(numbers(""), [2, 1, 41], "a record without a summary moves its job up, too");
}

/// Every job of a list or a search, page by page.
fn paged(store: &Store, typed: &str) -> Vec<u64> {
    let (mut numbers, mut after) = (Vec::new(), None);
    loop {
        let page = store.jobs(typed, 2, after).unwrap();
        numbers.extend(page.rows.iter().map(|row| row.number));
        after = page.next;
        if after.is_none() {
            return numbers;
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn list_and_search_are_in_the_order_of_the_newest_records(
        steps in prop::collection::vec((1_u64..6, any::<bool>()), 1..24),
    ) {
        let opened = empty();
        let store = &opened.store;
        for (number, told) in &steps {
            let (log, summary) = job(*number, "Ana Petrov", "2021 Calder Heron", "no crank after rain");
            append(store, &log, told.then_some(&summary)).unwrap();
        }
        // Jobs whose records came without a row get one later, in whatever order.
        for number in 1..6 {
            if steps.iter().any(|(known, _)| *known == number) {
                store.keep_summary(&job(number, "Ana Petrov", "2021 Calder Heron", "no crank").1).unwrap();
            }
        }
        let mut expected: Vec<u64> = Vec::new();
        for (number, _) in steps.iter().rev().filter(|(number, _)| (1..6).contains(number)) {
            if !expected.contains(number) {
                expected.push(*number);
            }
        }
        for typed in ["", "c", "cald", "ana h", "crank"] {
            prop_assert_eq!(paged(store, typed), expected.clone(), "{}", typed);
        }
    }
}

#[test]
fn counting_ends_somewhere_and_says_so() {
    let opened = empty();
    let store = &opened.store;
    for number in 1..=1_004 {
        let (log, summary) = job(number, "Ana Petrov", "2021 Calder Heron", "no crank");
        append(store, &log, Some(&summary)).unwrap();
    }
    let left = |typed, limit, after| store.jobs(typed, limit, after).unwrap().left;
    assert_eq!((left("", 2, None), left("ana", 2, None), left("ana", 5, None)), (1_000, 1_000, 999));
    let first = store.jobs("p", 4, None).unwrap();
    assert_eq!((first.rows[3].number, first.left), (1_001, 1_000));
    let next = store.jobs("p", 4, first.next).unwrap();
    assert_eq!((next.rows[0].number, next.left), (1_000, 996));
}

#[test]
fn logs_of_several_devices_merge_in_the_order_they_became_known() {
    let opened = empty();
    let store = &opened.store;
    let second = LogId { device: "device-2".into(), ..log() };
    let elsewhere = LogId { job: "job-2".into(), ..log() };
    let first_leaf = append(store, &log(), None).unwrap();
    let second_leaf = append(store, &second, None).unwrap();
    append(store, &elsewhere, None).unwrap();
    append(store, &log(), None).unwrap();
    let places: Vec<_> =
        store.job_records(JOB).unwrap().into_iter().map(|record| (record.device, record.sequence)).collect();
    assert_eq!(places, [("device-1".into(), 0), ("device-2".into(), 0), ("device-1".into(), 1)]);
    assert_eq!(store.other_heads(&log()).unwrap(), [("device-2".into(), second_leaf)].into());
    assert_eq!(store.leaves(&log()).unwrap().first(), Some(&first_leaf));
    assert_eq!(store.logs(JOB).unwrap(), [log(), second]);
}

#[test]
fn a_log_read_in_pieces_is_the_log_read_at_once() {
    let opened = empty();
    let store = &opened.store;
    let second = LogId { device: "device-2".into(), ..log() };
    for log in [log(), log(), second.clone(), log(), log(), second, log()] {
        append(store, &log, None).unwrap();
    }
    let own = store.job_records(JOB).unwrap().into_iter().filter(|record| record.device == log().device);
    let own: Vec<Vec<u8>> = own.map(|record| record.bytes).collect();
    for limit in [1, 2, 3, 5, 9] {
        let (mut pieces, mut from) = (Vec::new(), 0);
        loop {
            let page = store.records_of_log(&log(), from, limit).unwrap();
            assert!(page.len() as u64 <= limit, "{limit}");
            if page.is_empty() {
                break;
            }
            from += page.len() as u64;
            pieces.extend(page);
        }
        assert_eq!(pieces, own, "{limit}");
    }
    let unknown = LogId { device: "device-3".into(), ..log() };
    assert_eq!(store.records_of_log(&unknown, 0, 5).unwrap(), Vec::<Vec<u8>>::new());
}

#[test]
fn a_record_settles_its_draft_and_its_intent_in_one_step() {
    let opened = empty();
    let store = &opened.store;
    store.keep_draft(JOB, "note", &json!({ "text": "he" })).unwrap();
    store.keep_draft(JOB, "note", &json!({ "text": "hello" })).unwrap();
    store.keep_draft(JOB, "price", &json!({ "text": "12" })).unwrap();
    store.keep_intent(&json!({ "photo_for": "reading" })).unwrap();
    assert_eq!(store.draft(JOB, "note").unwrap(), Some(json!({ "text": "hello" })));
    assert_eq!(store.intent().unwrap(), Some(json!({ "photo_for": "reading" })));
    let sealed = seal(&log(), &store.head(&log()).unwrap(), new_record(0, vec![]), &mut || [3; 16]).unwrap();
    let log = log();
    let request = AppendRequest {
        settles_draft: Some("note"),
        settles_intent: true,
        ..AppendRequest::new(&log, &sealed, sign(store, &log, &sealed).unwrap())
    };
    store.append(&request).unwrap();
    assert_eq!(store.draft(JOB, "note").unwrap(), None);
    assert_eq!(store.draft(JOB, "price").unwrap(), Some(json!({ "text": "12" })));
    assert_eq!(store.take_intent().unwrap(), None);
    store.keep_intent(&json!(1)).unwrap();
    store.keep_intent(&json!(2)).unwrap();
    assert_eq!((store.take_intent().unwrap(), store.take_intent().unwrap()), (Some(json!(2)), None));
    store.drop_draft(JOB, "price").unwrap();
    assert_eq!(store.draft(JOB, "price").unwrap(), None);
}

#[test]
fn a_photo_without_a_record_is_offered_again() {
    let opened = empty();
    keep_next(&opened.store, 400).unwrap();
    let left = opened.store.keep_original(b"taken just before the app ended", "jpg").unwrap();
    assert_eq!(opened.store.unattached_originals().unwrap(), [left]);
}

#[test]
fn the_same_photo_twice_is_one_file_and_a_damaged_one_is_told_and_mended() {
    let opened = empty();
    let store = &opened.store;
    let digest = store.keep_original(b"picture", "jpg").unwrap();
    let path = store.original_path(&digest).unwrap();
    assert_eq!(store.keep_original(b"picture", "jpeg").unwrap(), digest);
    assert_eq!(std::fs::read_dir(path.parent().unwrap()).unwrap().count(), 1);
    std::fs::write(&path, b"Picture").unwrap();
    assert!(matches!(store.original(&digest), Err(StoreError::OriginalDamaged { .. })));
    store.keep_original(b"picture", "jpg").unwrap();
    assert_eq!(store.original(&digest).unwrap(), b"picture");
    for extension in ["", "JPG", "../x", "j/g", "averylongone"] {
        assert!(
            matches!(store.keep_original(b"x", extension), Err(StoreError::FileName { .. })),
            "{extension}"
        );
    }
}
