//! A database of every released schema, as it was written then, opened by today's code.
//!
//! `frozen/v5` was written by `keeper keep frozen/v5 3 700`, `frozen/v4` in the same way. `frozen/v2` came about in the same way, with a public key and a forgotten digest added. `frozen/v1` was written once by `keeper keep frozen/v1 3 700` (and `sqlite3` added a setting and a draft) and is
//! never written again.

use std::fs;
use std::path::Path;

use evidence::seal;
use store::{AppendRequest, JobMark, OpenOptions, SCHEMA, Standing, Store, StoreError};

use crate::programs::run_well;
use crate::sample::{JOB, Kept, keep_next, log, new_record, salt, sign};
use crate::sound::{all_kept, all_kept_without_database};

#[test]
fn a_database_of_schema_1_opens_with_everything_in_it() {
    let folder = opens_with_everything("v1");
    // What schema 2 brought: the journal of the old log, from which a lost database comes back.
    let written = fs::read_to_string(frozen("v1").join("kept.txt")).unwrap();
    let kept: Vec<Kept> = written.split_inclusive('\n').filter_map(Kept::read).collect();
    all_kept_without_database(folder.path(), &kept).unwrap();
}

#[test]
fn a_database_of_schema_2_opens_with_everything_in_it() {
    let folder = opens_with_everything("v2");
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    assert_eq!(store.forgotten().unwrap().len(), 1);
    let keys = store.public_keys_of("device-2").unwrap();
    assert_eq!(keys, [evidence::DeviceKey::from_seed([5; 32]).public()]);
}

fn opens_with_everything(version: &str) -> tempfile::TempDir {
    let folder = copy_of(version);
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    let written = fs::read_to_string(frozen(version).join("kept.txt")).unwrap();
    let kept: Vec<Kept> = written.split_inclusive('\n').filter_map(Kept::read).collect();
    assert_eq!(kept.len(), 3);
    // Records from before they were signed one by one are kept apart until their owner takes them in.
    let standing: Vec<_> = store.job_records(JOB).unwrap().iter().map(|record| record.standing).collect();
    assert_eq!(standing, [Standing::NotVouched; 3]);
    let refused = keep_next(&store, 700);
    assert!(matches!(refused, Err(StoreError::NotVouched { from: 0, .. })), "{refused:?}");
    all_kept(&store, &kept).unwrap();
    let root = store.root(&log()).unwrap().unwrap().to_string();
    assert!(written.ends_with(&format!("root {root}\n")), "{root}");
    let notes: Vec<_> =
        store.disclosures(JOB).unwrap().iter().map(|shown| shown.value().to_string()).collect();
    assert_eq!(notes[2], "\"reading 2 at the rear lamp\"");
    assert_eq!(store.setting("units").unwrap().unwrap()["length"], "mi");
    assert_eq!(store.draft(JOB, "complaint").unwrap().unwrap()["text"], "dim when braking");
    assert_eq!(store.jobs("nuflo wren", 5, None).unwrap().rows[0].number, 1);
    take_in(&store).unwrap();
    keep_next(&store, 700).unwrap();
    let standing: Vec<_> = store.job_records(JOB).unwrap().iter().map(|record| record.standing).collect();
    assert_eq!(standing, [Standing::Good; 5]);
    drop(store);
    let database = folder.path().join("testimeter.sqlite");
    let version = run_well("sqlite3", &[database.to_str().unwrap(), "PRAGMA user_version"]);
    assert_eq!(version.trim(), SCHEMA.to_string());
    folder
}

fn frozen(version: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("databases/frozen").join(version)
}

fn copy_of(version: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    run_well("cp", &["-r", &format!("{}/.", frozen(version).display()), folder.path().to_str().unwrap()]);
    folder
}

/// Appends a record that takes in those before it which nobody signed for.
fn take_in(store: &Store) -> Result<(), StoreError> {
    let log = log();
    let head = store.head(&log)?;
    let sealed = seal(&log, &head, new_record(head.size, vec![]), &mut || salt(head.size))?;
    let signature = sign(store, &log, &sealed)?;
    store
        .append(&AppendRequest { takes_in_unsigned: true, ..AppendRequest::new(&log, &sealed, signature) })?;
    Ok(())
}

/// The first schemas with a signature per record and a signed list of keys: every record counts, and comes back from the
/// journal alone.
#[test]
fn a_database_of_schema_4_opens_with_every_record_vouched_for() {
    let folder = opens_vouched_for("v4");
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    // What schema 5 brought: open jobs are folded anew, and the list is narrowed by stage meanwhile.
    assert_eq!(store.jobs_to_fold().unwrap(), [JOB]);
    of_its_stage(&store);
}

#[test]
fn a_database_of_schema_5_opens_with_every_record_vouched_for() {
    let folder = opens_vouched_for("v5");
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    assert!(store.jobs_to_fold().unwrap().is_empty());
    of_its_stage(&store);
}

fn of_its_stage(store: &Store) {
    let row = store.jobs_with(Some(JobMark::Stage("diagnosis")), "wren", 5, None).unwrap().rows;
    assert_eq!(row.iter().map(|row| row.number).collect::<Vec<_>>(), [1]);
}

/// Every record counts, one more can be kept, and all of them come back from the journal alone. Answers with a fresh copy.
fn opens_vouched_for(version: &str) -> tempfile::TempDir {
    let folder = copy_of(version);
    let written = fs::read_to_string(frozen(version).join("kept.txt")).unwrap();
    let kept: Vec<Kept> = written.split_inclusive('\n').filter_map(Kept::read).collect();
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    all_kept(&store, &kept).unwrap();
    let standing: Vec<_> = store.job_records(JOB).unwrap().iter().map(|record| record.standing).collect();
    assert_eq!((kept.len(), standing.as_slice()), (3, &[Standing::Good; 3][..]));
    keep_next(&store, 700).unwrap();
    drop(store);
    all_kept_without_database(folder.path(), &kept).unwrap();
    copy_of(version)
}
