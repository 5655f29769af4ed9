//! Open exports and logs of other devices: what goes out comes back byte for byte, and nothing is overwritten.

use std::fs;
use std::ops::ControlFlow;

use evidence::packet::Progress;
use evidence::{Checkpoint, DeviceKey, LogHead, LogId, Sealed, seal};
use serde_json::json;
use store::{
    AppendRequest, CopiedRecord, LogCopy, LogUnion, OpenOptions, Store, StoreError, TimeStampWaiting,
};

use crate::programs::run_well;
use crate::sample::{JOB, keep_next, know, log, new_record, sign as sign_record};

fn go_on(_: Progress) -> ControlFlow<()> {
    ControlFlow::Continue(())
}

fn signed(store: &Store, log: &LogId, sealed: &Sealed) -> [u8; 64] {
    sign_record(store, log, sealed).unwrap()
}

fn empty() -> (tempfile::TempDir, Store) {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    // The devices of these checks share one key, and know each other.
    for device in ["device-1", "device-2"] {
        know(&store, &LogId { device: device.into(), ..log() }).unwrap();
    }
    (folder, store)
}

fn shop() -> (tempfile::TempDir, Store) {
    let (folder, store) = empty();
    for _ in 0..3 {
        keep_next(&store, 600).unwrap();
    }
    sign(&store, 3);
    store.set_setting("shop", &json!({ "name": "Bench, \"two\"" })).unwrap();
    (folder, store)
}

fn sign(store: &Store, size: u64) {
    let root = store.root(&log()).unwrap().unwrap();
    let signed = DeviceKey::from_seed([5; 32]).sign(&Checkpoint { origin: log().origin(), size, root });
    store.append_checkpoint(&log(), &signed).unwrap();
}

#[test]
fn an_open_export_comes_back_byte_for_byte() {
    let (folder, store) = shop();
    let out = folder.path().join("out");
    let more = [("readings.csv".to_owned(), b"job,value\r\n".to_vec())];
    let report = store.open_export(&out, &more, &mut go_on).unwrap();
    assert_eq!(report.damaged_originals, []);
    // The outside view: every listed hash holds, and the record's bytes can be cut out of the line with a text tool.
    let listed = run_well("sh", &["-c", "cd \"$0\" && sha256sum -c SHA256SUMS", out.to_str().unwrap()]);
    assert_eq!(listed.lines().count() as u64, report.files - 1);
    let cut =
        "sed -n 's/^.*\"record\"://;s/}$//;2p' \"$0\" | tr -d '\\n' | { printf '\\0'; cat; } | sha256sum";
    let journal = out.join("logs/job-1/device-1@shop-1.jsonl");
    let leaf = run_well("sh", &["-c", cut, journal.to_str().unwrap()]);
    assert_eq!(leaf.split(' ').next(), Some(store.leaves(&log()).unwrap()[0].to_string().as_str()));
    let csv = "import csv,sys; print([len(r) for r in csv.reader(open(sys.argv[1], newline=''))])";
    let values = run_well("python3", &["-c", csv, out.join("values.csv").to_str().unwrap()]);
    assert_eq!(values.trim(), "[5, 5, 5, 5]");
    let full = store.open_export(&out, &[], &mut go_on);
    assert!(matches!(full, Err(StoreError::NotEmpty { .. })));
    let name = [("../x".to_owned(), Vec::new())];
    let refused = store.open_export(&folder.path().join("out2"), &name, &mut go_on);
    assert!(matches!(refused, Err(StoreError::FileName { .. })));
    assert!(!folder.path().join("out2").exists());

    let (other_folder, other) = empty();
    let brought = other.open_import(&out, &mut go_on).unwrap();
    assert_eq!((brought.originals_added, brought.refused.len()), (3, 0));
    assert_eq!(
        brought.logs,
        [(log().origin(), LogUnion { added: 3, already: 0, values: 0, checkpoints: 1 })]
    );
    assert_eq!(brought.settings["shop"]["name"], "Bench, \"two\"");
    assert_eq!(other.job_records(JOB).unwrap(), store.job_records(JOB).unwrap());
    assert_eq!(other.disclosures(JOB).unwrap(), store.disclosures(JOB).unwrap());
    assert_eq!(other.verify_logs().unwrap(), store.verify_logs().unwrap());
    assert_eq!(other.jobs_to_fold().unwrap(), [JOB]);
    let path = "logs/job-1/device-1@shop-1.jsonl";
    assert_eq!(
        fs::read(other_folder.path().join(path)).unwrap(),
        fs::read(folder.path().join(path)).unwrap()
    );
    let again = other.open_import(&out, &mut go_on).unwrap();
    assert_eq!((again.originals_already, again.logs[0].1.already, again.logs[0].1.added), (3, 3, 0));
}

#[test]
fn a_changed_export_is_refused_by_name_and_the_rest_taken() {
    let (folder, store) = shop();
    let out = folder.path().join("out");
    store.open_export(&out, &[], &mut go_on).unwrap();
    let journal = out.join("logs/job-1/device-1@shop-1.jsonl");
    let text = fs::read_to_string(&journal).unwrap();
    let changes = [
        text.replacen("12.61 V", "11.61 V", 1),
        text.lines().filter(|line| !line.contains("\"sequence\":1,")).collect::<Vec<_>>().join("\n") + "\n",
        text.trim_end().to_owned(),
        text.replacen("\"version\":1}\n", "\"version\":9}\n", 1),
        String::new(),
    ];
    for changed in changes {
        fs::write(&journal, &changed).unwrap();
        let (_folder, other) = empty();
        let brought = other.open_import(&out, &mut go_on).unwrap();
        assert_eq!(brought.refused.len(), 1, "{changed}");
        assert_eq!(brought.refused[0].file, "logs/job-1/device-1@shop-1.jsonl");
        assert_eq!((brought.originals_added, other.head(&log()).unwrap()), (3, LogHead::default()));
    }
    fs::write(&journal, &text).unwrap();
    let photo = run_well("sh", &["-c", "ls -d \"$0\"/originals/*/* | head -1", out.to_str().unwrap()]);
    fs::write(photo.trim(), b"other bytes").unwrap();
    let link = out.join("originals/aa");
    let _ = fs::create_dir_all(&link);
    std::os::unix::fs::symlink("/etc/hostname", link.join(format!("{}.jpg", "a".repeat(64)))).unwrap();
    let (_folder, other) = empty();
    let brought = other.open_import(&out, &mut go_on).unwrap();
    assert_eq!(
        brought.refused.len(),
        3,
        "the photo, the link, and the log that needs the photo: {brought:?}"
    );
}

/// Two devices of one shop: the second continues from a copy, and both copies meet again.
#[test]
fn logs_of_two_devices_unite_without_conflict() {
    let ((_a, first), (_b, second)) = (shop(), empty());
    let copy = |store: &Store, log: &LogId| {
        let records =
            store.job_records(JOB).unwrap().into_iter().filter(|record| record.device == log.device);
        let signatures: std::collections::BTreeMap<u64, [u8; 64]> =
            store.signatures(log).unwrap().into_iter().collect();
        let copied = |record: store::StoredRecord| CopiedRecord {
            signature: signatures.get(&(record.sequence + 1)).copied(),
            bytes: record.bytes,
            disclosures: vec![],
        };
        let records = records.map(copied).collect();
        LogCopy { records, ..LogCopy::new(log.clone()) }
    };
    let missing = second.foreign_append(&copy(&first, &log()));
    assert!(matches!(missing, Err(StoreError::OriginalMissing { .. })), "{missing:?}");
    for record in first.job_records(JOB).unwrap() {
        let photo = evidence::Record::parse(&record.bytes).unwrap().photos[0].sha256;
        second.keep_original(&first.original(&photo).unwrap(), "jpg").unwrap();
    }
    assert_eq!(second.foreign_append(&copy(&first, &log())).unwrap().added, 3);
    let own = LogId { device: "device-2".into(), ..log() };
    let mut new = new_record(9, vec![]);
    new.others = second.other_heads(&own).unwrap();
    let sealed = seal(&own, &LogHead::default(), new, &mut || [4; 16]).unwrap();
    let signature = signed(&second, &own, &sealed);
    second.append(&AppendRequest::new(&own, &sealed, signature)).unwrap();
    assert_eq!(first.foreign_append(&copy(&second, &own)).unwrap().added, 1);
    assert_eq!((first.job_size(JOB).unwrap(), second.job_size(JOB).unwrap()), (4, 4));
    keep_next(&first, 600).unwrap();
    let newest = LogCopy { records: copy(&first, &log()).records[3..].to_vec(), ..LogCopy::new(log()) };
    let photo = evidence::Record::parse(&newest.records[0].bytes).unwrap().photos[0].sha256;
    second.keep_original(&first.original(&photo).unwrap(), "jpg").unwrap();
    let union = second.foreign_append(&newest).unwrap();
    assert_eq!((union.added, union.already), (1, 0), "a copy may begin in the middle");
    assert_eq!(first.verify_logs().unwrap().len(), second.verify_logs().unwrap().len());
}

#[test]
fn a_fork_is_named_and_nothing_is_overwritten() {
    let (_a, store) = shop();
    let before = store.job_records(JOB).unwrap();
    let first = LogHead { size: 1, last: Some(store.leaves(&log()).unwrap()[0]) };
    let other = seal(&log(), &first, new_record(77, vec![]), &mut || [8; 16]).unwrap();
    let forked = LogCopy {
        records: vec![CopiedRecord { bytes: other.bytes, disclosures: other.disclosures, signature: None }],
        ..LogCopy::new(log())
    };
    let refused = store.foreign_append(&forked);
    assert!(matches!(refused, Err(StoreError::Fork { sequence: 1, .. })), "{refused:?}");
    let late =
        seal(&log(), &LogHead { size: 9, last: first.last }, new_record(9, vec![]), &mut || [8; 16]).unwrap();
    let gap = LogCopy {
        records: vec![CopiedRecord { bytes: late.bytes, disclosures: vec![], signature: None }],
        ..LogCopy::new(log())
    };
    assert!(matches!(store.foreign_append(&gap), Err(StoreError::Gap { expected: 3, .. })));
    assert_eq!(store.job_records(JOB).unwrap(), before);
}

/// A checkpoint by a key that isn't the device's is refused once the device's key is known.
#[test]
fn checkpoints_of_others_must_be_signed_by_their_key() {
    let (_a, store) = shop();
    let (_b, other) = empty();
    let head = LogHead::default();
    let sealed = seal(&log(), &head, new_record(0, vec![]), &mut || [1; 16]).unwrap();
    let root = evidence::tree::root(&[sealed.leaf]);
    let checkpoint = Checkpoint { origin: log().origin(), size: 1, root };
    let record = CopiedRecord { bytes: sealed.bytes, disclosures: vec![], signature: None };
    let (right, wrong) = (DeviceKey::from_seed([5; 32]), DeviceKey::from_seed([6; 32]));
    other.keep_public_key("device-1", &right.public_pem().unwrap()).unwrap();
    let mut copy =
        LogCopy { records: vec![record], checkpoints: vec![wrong.sign(&checkpoint)], ..LogCopy::new(log()) };
    assert!(matches!(other.foreign_append(&copy), Err(StoreError::Misfit { .. })));
    copy.checkpoints = vec![right.sign(&checkpoint)];
    assert_eq!(other.foreign_append(&copy).unwrap().checkpoints, 1);
    drop(store);
}

#[test]
fn time_stamps_wait_in_order_and_leave_with_their_record() {
    let (_a, store) = shop();
    store.timestamp_queue_put(&log(), 3, "https://one.invalid", 1000).unwrap();
    store.timestamp_queue_put(&log(), 3, "https://two.invalid", 500).unwrap();
    store.timestamp_queue_put(&log(), 3, "https://two.invalid", 9999).unwrap();
    assert!(matches!(store.timestamp_queue_put(&log(), 2, "x", 0), Err(StoreError::Misfit { .. })));
    let names = |waiting: Vec<TimeStampWaiting>| -> Vec<String> {
        waiting.into_iter().map(|waiting| waiting.authority).collect()
    };
    assert_eq!(names(store.timestamp_queue_due(600, 10_000).unwrap()), ["https://two.invalid"]);
    let waiting = store.timestamp_queue().unwrap();
    store.timestamp_queue_failed(&waiting[0], "no route", 50_000).unwrap();
    let failed = store.timestamp_queue().unwrap().pop().unwrap();
    assert_eq!((failed.attempts, failed.last_error.as_str(), failed.next_try), (1, "no route", 50_000));
    assert_eq!(names(store.timestamp_queue_due(1000, 100_000).unwrap()), ["https://one.invalid"]);
    assert_eq!(store.timestamp_queue_due(1000, 10_000).unwrap().len(), 2, "the clock was set back");
    let head = store.head(&log()).unwrap();
    let sealed = seal(&log(), &head, new_record(3, vec![]), &mut || [3; 16]).unwrap();
    let own = log();
    let token = AppendRequest {
        settles_time_stamp: Some(&waiting[1]),
        ..AppendRequest::new(&own, &sealed, signed(&store, &own, &sealed))
    };
    store.append(&token).unwrap();
    assert_eq!(names(store.timestamp_queue().unwrap()), ["https://two.invalid"]);
    store.timestamp_queue_settle(&failed).unwrap();
    assert_eq!(store.timestamp_queue().unwrap(), []);
}

#[test]
fn an_append_that_counted_on_another_job_is_refused() {
    let (_a, store) = shop();
    let seen = store.job_size(JOB).unwrap();
    let sealed = |store: &Store| {
        seal(&log(), &store.head(&log()).unwrap(), new_record(3, vec![]), &mut || [3; 16]).unwrap()
    };
    keep_next(&store, 600).unwrap();
    let late = sealed(&store);
    let own = log();
    let request = AppendRequest {
        expected_records: Some(seen),
        ..AppendRequest::new(&own, &late, signed(&store, &own, &late))
    };
    assert!(matches!(store.append(&request), Err(StoreError::Moved { expected: 3, found: 4, .. })));
    store.append(&AppendRequest { expected_records: Some(4), ..request }).unwrap();
}
