//! What opening and appending refuse, and that a refusal changes nothing.

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;

use evidence::{Checkpoint, DeviceKey, LogHead, seal};
use serde_json::json;
use store::{AppendRequest, Notice, OpenOptions, Rebuilt, RebuiltLog, SCHEMA, Standing, Store, StoreError};

use crate::programs::{run, run_well};
use crate::sample::{JOB, keep_next, log, new_record, sign};
use crate::sound::all_kept;

fn open(folder: &Path) -> Result<Store, StoreError> {
    Store::open(folder, &OpenOptions::default())
}

fn with_records(count: usize) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let store = open(folder.path()).unwrap();
    for _ in 0..count {
        keep_next(&store, 500).unwrap();
    }
    folder
}

/// Runs SQL with SQLite's own shell, as damage or a later version would change the file.
fn sql(folder: &Path, statement: &str) {
    run_well("sqlite3", &[folder.join("testimeter.sqlite").to_str().unwrap(), statement]);
}

#[test]
fn a_second_start_on_the_same_folder_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let first = open(folder.path()).unwrap();
    assert!(matches!(open(folder.path()), Err(StoreError::AlreadyOpen { .. })));
    let elsewhere = run(crate::programs::KEEPER, &["keep", folder.path().to_str().unwrap(), "1", "100"]);
    assert!(String::from_utf8_lossy(&elsewhere.stderr).contains("already in use"), "{elsewhere:?}");
    drop(first);
    open(folder.path()).unwrap();
}

#[test]
fn a_damaged_database_is_renamed_and_told() {
    let folder = with_records(3);
    open(folder.path()).unwrap().set_setting("shop", &json!("the bench")).unwrap();
    let path = folder.path().join("testimeter.sqlite");
    for (number, records, damage) in [(1, 3, 0), (2, 4, 8192)] {
        let mut bytes = fs::read(&path).unwrap();
        bytes[damage..damage + 3000].fill(0xA5);
        fs::write(&path, &bytes).unwrap();
        let store = open(folder.path()).unwrap();
        let to = folder.path().join(format!("testimeter-damaged-{number}.sqlite"));
        assert_eq!(fs::read(&to).unwrap(), bytes, "the damaged file is not as it was");
        let back = Notice::RecordsRecovered { log: log().origin(), records, left_behind: 0, complaint: None };
        let log = RebuiltLog { log: log().origin(), records, lost: 0 };
        let rebuilt = Notice::DatabaseRebuilt(Rebuilt { logs: vec![log], settings: 1, drafts: 0 });
        assert_eq!(store.notices(), [Notice::DatabaseMovedAside { to }, back, rebuilt]);
        assert_eq!(store.setting("shop").unwrap(), Some(json!("the bench")));
        assert_eq!(store.unattached_originals().unwrap(), [], "every photo is named by its record again");
        assert_eq!(store.jobs_to_fold().unwrap(), [JOB]);
        keep_next(&store, 500).unwrap();
    }
}

#[test]
fn a_log_without_its_database_is_not_deleted() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("testimeter.sqlite-wal"), b"what is left").unwrap();
    let store = open(folder.path()).unwrap();
    let exposed = |notice: &&Notice| !matches!(notice, Notice::FolderExposed { .. });
    let notices: Vec<&Notice> = store.notices().iter().filter(exposed).collect();
    assert!(
        matches!(notices[..], [Notice::DatabaseMovedAside { .. }, Notice::DatabaseRebuilt(_)]),
        "{notices:?}"
    );
    assert_eq!(fs::read(folder.path().join("testimeter-damaged-1.sqlite-wal")).unwrap(), b"what is left");
}

#[test]
fn a_damaged_search_index_is_built_again() {
    let folder = with_records(1);
    sql(folder.path(), "DELETE FROM job_search_data WHERE id > 10");
    let store = open(folder.path()).unwrap();
    assert_eq!(store.notices(), []);
    assert_eq!(store.jobs("dim", 9, None).unwrap().rows.len(), 1);
}

#[test]
fn newer_and_foreign_databases_are_left_alone() {
    let newer = with_records(1);
    sql(newer.path(), "PRAGMA user_version = 99");
    let refused = open(newer.path());
    assert!(matches!(refused, Err(StoreError::TooNew { found: 99, known: SCHEMA })));
    let foreign = tempfile::tempdir().unwrap();
    sql(foreign.path(), "CREATE TABLE somebody_elses (x)");
    let before = fs::read(foreign.path().join("testimeter.sqlite")).unwrap();
    assert!(matches!(open(foreign.path()), Err(StoreError::Foreign { .. })));
    assert_eq!(fs::read(foreign.path().join("testimeter.sqlite")).unwrap(), before);
}

/// Changes a person with the file in hand could make; SQLite finds nothing wrong with any of them.
#[test]
fn a_changed_log_is_mended_from_its_journal_and_without_one_not_continued() {
    let changes = [
        "UPDATE records SET bytes = replace(CAST(bytes AS TEXT), '12.61', '11.00') WHERE sequence = 2",
        "UPDATE leaves SET leaf = randomblob(32) WHERE sequence = 1",
        "UPDATE logs SET root = randomblob(32)",
        "UPDATE logs SET frontier = randomblob(64)",
        "UPDATE logs SET size = 2",
        "DELETE FROM photos WHERE record = (SELECT max(record) FROM records); DELETE FROM disclosures WHERE record = (SELECT max(record) FROM records); DELETE FROM records WHERE sequence = 2",
    ];
    for change in changes {
        let folder = with_records(3);
        let change = change.replace(
            "SET bytes = replace(CAST(bytes AS TEXT), '12.61', '11.00')",
            "SET bytes = CAST(replace(CAST(bytes AS TEXT), '12.61', '11.00') AS BLOB)",
        );
        sql(folder.path(), &change);
        let kept = fs::read(folder.path().join("logs/job-1/device-1@shop-1.jsonl")).unwrap();
        {
            // The journal gives back what was changed, and the log goes on.
            let store = open(folder.path()).unwrap();
            assert!(matches!(store.notices(), [Notice::LogMended { .. }]), "{change}: {:?}", store.notices());
            all_kept_after(&store, &change.replace("UPDATE", "after UPDATE"));
        }
        assert_eq!(fs::read(folder.path().join("logs/job-1/device-1@shop-1.jsonl")).unwrap(), kept);
        sql(folder.path(), &change);
        fs::remove_dir_all(folder.path().join("logs")).unwrap();
        let store = open(folder.path()).unwrap();
        // The records themselves are sound: root and leaves follow from them.
        if change.starts_with("UPDATE l") {
            assert!(matches!(store.notices(), [Notice::LogMended { .. }]), "{change}: {:?}", store.notices());
            continue;
        }
        let told = |notice: &Notice| matches!(notice, Notice::LogDamaged { .. } | Notice::NotVouched { .. });
        assert!(store.notices().iter().any(told), "{change}: {:?}", store.notices());
        if store.notices().iter().any(|notice| matches!(notice, Notice::NotVouched { .. })) {
            // What can be proven is left, and goes on.
            continue;
        }
        let refused = keep_next(&store, 500);
        assert!(
            matches!(refused, Err(StoreError::LogDamaged { .. } | StoreError::Evidence(_))),
            "{change}: {refused:?}"
        );
        assert!(store.job_records(JOB).is_ok(), "a damaged log can still be read");
        // What goes into a packet is hashed again as it is read.
        let refused =
            (0..3).map(|from| store.records_of_log(&log(), from, 1)).filter(|page| page.is_err()).count();
        let record_changed = change.contains("records SET") || change.contains("leaves SET");
        assert_eq!(refused, usize::from(record_changed), "{change}");
    }
}

fn all_kept_after(store: &Store, change: &str) {
    let standing: Vec<Standing> =
        store.job_records(JOB).unwrap().iter().map(|record| record.standing).collect();
    assert_eq!(standing, [Standing::Good; 3], "{change}");
    store.verify_logs().unwrap();
    assert_eq!(store.disclosures(JOB).unwrap().len(), 3, "{change}");
}

#[test]
fn forks_gaps_and_repetitions_are_told_apart() {
    let folder = with_records(2);
    let store = open(folder.path()).unwrap();
    let (head, leaves) = (store.head(&log()).unwrap(), store.leaves(&log()).unwrap());
    let sealed =
        |head: &LogHead, number| seal(&log(), head, new_record(number, vec![]), &mut || [9; 16]).unwrap();
    let attempt = |sealed| {
        let signature = sign(&store, &log(), sealed)?;
        store.append(&AppendRequest::new(&log(), sealed, signature)).map(drop)
    };
    let other_second = sealed(&LogHead { size: 1, last: Some(leaves[0]) }, 7);
    assert!(matches!(attempt(&other_second), Err(StoreError::Fork { sequence: 1, .. })));
    let other_past = sealed(&LogHead { size: 2, last: Some(leaves[0]) }, 7);
    assert!(matches!(attempt(&other_past), Err(StoreError::Fork { sequence: 2, .. })));
    let early = sealed(&LogHead { size: 3, last: Some(leaves[1]) }, 7);
    assert!(matches!(attempt(&early), Err(StoreError::Gap { sequence: 3, expected: 2, .. })));
    let next = sealed(&head, 7);
    attempt(&next).unwrap();
    assert!(matches!(attempt(&next), Err(StoreError::AlreadyKept { sequence: 2, .. })));
    all_kept(&store, &[]).unwrap();
}

#[test]
fn a_record_needs_its_photo_and_its_own_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let store = open(folder.path()).unwrap();
    let photo = evidence::PhotoRef {
        sha256: evidence::Digest::of(b"never kept"),
        bytes: 10,
        media_type: "image/jpeg".into(),
    };
    let sealed = seal(&log(), &LogHead::default(), new_record(0, vec![photo]), &mut || [9; 16]).unwrap();
    assert!(matches!(
        store.append(&AppendRequest::new(&log(), &sealed, sign(&store, &log(), &sealed).unwrap())),
        Err(StoreError::OriginalMissing { .. })
    ));
    let mut forged = seal(&log(), &LogHead::default(), new_record(0, vec![]), &mut || [9; 16]).unwrap();
    forged.leaf = evidence::Digest::of(b"another");
    let signature = sign(&store, &log(), &forged).unwrap();
    let refused = store.append(&AppendRequest::new(&log(), &forged, signature));
    assert!(matches!(refused, Err(StoreError::Misfit { .. })));
    assert_eq!(store.head(&log()).unwrap(), LogHead::default(), "nothing was kept");
}

#[test]
fn only_checkpoints_of_this_log_are_kept() {
    let folder = with_records(3);
    let store = open(folder.path()).unwrap();
    let key = DeviceKey::from_seed([5; 32]);
    let root = store.root(&log()).unwrap().unwrap();
    let right = key.sign(&Checkpoint { origin: log().origin(), size: 3, root });
    store.append_checkpoint(&log(), &right).unwrap();
    store.append_checkpoint(&log(), &right).unwrap();
    let kept = store.checkpoints(JOB).unwrap();
    assert_eq!(kept.iter().map(|kept| (&kept.signed, kept.size)).collect::<Vec<_>>(), [(&right, 3)]);
    for (origin, size, root) in [
        (log().origin(), 2, root),
        (log().origin(), 4, root),
        ("shop-1/job-2/device-1".into(), 3, root),
        (log().origin(), 3, evidence::Digest::of(b"x")),
    ] {
        let wrong = key.sign(&Checkpoint { origin, size, root });
        assert!(
            matches!(store.append_checkpoint(&log(), &wrong), Err(StoreError::Misfit { .. })),
            "{}",
            wrong.text
        );
    }
}

/// OpenSSL reads the key file and derives the same public key from it.
#[test]
fn the_key_file_is_the_owners_alone_and_openssl_reads_it() {
    let folder = tempfile::tempdir().unwrap();
    let (store, path) = (open(folder.path()).unwrap(), folder.path().join("keys/device.pem"));
    assert!(store.device_key().unwrap().is_none());
    let key = DeviceKey::from_seed([5; 32]);
    store.keep_device_key(&key).unwrap();
    assert!(matches!(store.keep_device_key(&key), Err(StoreError::KeyExists { .. })));
    assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o600);
    let public = run_well("openssl", &["pkey", "-in", path.to_str().unwrap(), "-pubout"]);
    assert_eq!(public.trim(), key.public_pem().unwrap().trim());
    fs::set_permissions(&path, fs::Permissions::from_mode(0o644)).unwrap();
    assert!(store.device_key().unwrap().unwrap().was_exposed);
    assert!(!store.device_key().unwrap().unwrap().was_exposed);
    fs::write(&path, "not a key").unwrap();
    assert!(matches!(store.device_key(), Err(StoreError::KeyUnreadable { .. })));
}
