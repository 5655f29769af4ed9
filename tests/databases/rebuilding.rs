//! A damaged page costs what stood on it and no more; with the journals it costs nothing.

use std::fs;
use std::ops::ControlFlow;
use std::path::Path;
use std::sync::Arc;

use evidence::{Checkpoint, DeviceKey, LogId, seal};
use serde_json::json;
use store::{AppendRequest, Notice, OpenOptions, Rebuilt, Store};

use crate::faulty_disk::{Fault, FaultyDisk};
use crate::programs::run_well;
use crate::sample::{keep_next, log, new_record, sign, summary};
use crate::sound::all_kept;

const RECORDS: u64 = 40;

/// A shop whose records fill many pages; returns what was acknowledged, too.
fn shop(folder: &Path) -> Vec<crate::sample::Kept> {
    let store = Store::open(folder, &OpenOptions::default()).unwrap();
    store.set_setting("shop", &json!({ "id": "shop-1" })).unwrap();
    store.keep_draft("job-1", "note", &json!("half")).unwrap();
    let kept = (0..RECORDS).map(|_| keep_next(&store, 300).unwrap()).collect();
    let root = store.root(&log()).unwrap().unwrap();
    let checkpoint = Checkpoint { origin: log().origin(), size: RECORDS, root };
    store.append_checkpoint(&log(), &DeviceKey::from_seed([5; 32]).sign(&checkpoint)).unwrap();
    let other = LogId { job: "job-2".into(), ..log() };
    let sealed = seal(&other, &store.head(&other).unwrap(), new_record(1, vec![]), &mut || [2; 16]).unwrap();
    let signature = sign(&store, &other, &sealed).unwrap();
    store.append(&AppendRequest::new(&other, &sealed, signature)).unwrap();
    kept
}

fn rebuilt(store: &Store) -> Option<Rebuilt> {
    store.notices().iter().find_map(|notice| match notice {
        Notice::DatabaseRebuilt(rebuilt) => Some(rebuilt.clone()),
        _ => None,
    })
}

fn copy(from: &Path) -> tempfile::TempDir {
    let to = tempfile::tempdir().unwrap();
    run_well("cp", &["-r", &format!("{}/.", from.display()), to.path().to_str().unwrap()]);
    to
}

/// Every page in turn is overwritten, with and without the journals beside it.
#[test]
fn each_damaged_page_in_turn() {
    let folder = tempfile::tempdir().unwrap();
    let kept = shop(folder.path());
    let bytes = fs::read(folder.path().join("testimeter.sqlite")).unwrap();
    let (mut asides, mut whole, mut partial, mut lost_all) = (0, 0, 0, 0);
    for page in 0..bytes.len() / 4096 {
        let mut damaged = bytes.clone();
        damaged[page * 4096..(page + 1) * 4096].fill(0xA5);
        let with = copy(folder.path());
        fs::write(with.path().join("testimeter.sqlite"), &damaged).unwrap();
        let store = Store::open(with.path(), &OpenOptions::default()).unwrap();
        let Some(rebuilt_with) = rebuilt(&store) else { continue };
        asides += 1;
        assert!(rebuilt_with.logs.iter().all(|log| log.lost == 0), "page {page}: {rebuilt_with:?}");
        assert_eq!(rebuilt_with.settings, 1);
        store.keep_summary(&summary(RECORDS)).unwrap();
        assert_eq!((store.verify_logs().unwrap().len(), store.checkpoints("job-1").unwrap().len()), (2, 1));
        let sound = {
            drop(store);
            Store::open(with.path(), &OpenOptions::default()).unwrap()
        };
        all_kept(&sound, &kept).unwrap();

        let without = copy(folder.path());
        fs::write(without.path().join("testimeter.sqlite"), &damaged).unwrap();
        fs::remove_dir_all(without.path().join("logs")).unwrap();
        let store = Store::open(without.path(), &OpenOptions::default()).unwrap();
        let rebuilt = rebuilt(&store).unwrap();
        for log in store.verify_logs().unwrap() {
            let told = rebuilt.logs.iter().find(|told| told.log == log.log.origin()).unwrap();
            assert_eq!(told.records, log.size, "page {page}");
            if told.log.contains("job-1/") {
                assert_eq!(told.records + told.lost, RECORDS, "page {page}: {told:?}");
            }
        }
        match store.head(&log()).unwrap().size {
            RECORDS => whole += 1,
            0 => lost_all += 1,
            _ => partial += 1,
        }
    }
    eprintln!(
        "{asides} pages set the file aside; of the file alone {whole} lost no record, {partial} some, {lost_all} all"
    );
    assert!(asides > 20 && whole > 0 && partial > 0, "{asides} {whole} {partial} {lost_all}");
    assert!(lost_all * 3 < asides, "one page may not cost everything more often than in one case of three");
}

/// Without any database, the shop goes on from journals, originals and the settings' file.
#[test]
fn a_lost_database_comes_back() {
    let folder = tempfile::tempdir().unwrap();
    let kept = shop(folder.path());
    for name in ["testimeter.sqlite", "testimeter.sqlite-wal"] {
        let _ = fs::remove_file(folder.path().join(name));
    }
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    assert_eq!(store.setting("shop").unwrap(), Some(json!({ "id": "shop-1" })));
    assert_eq!(store.jobs_to_fold().unwrap(), ["job-1", "job-2"]);
    store.keep_summary(&summary(RECORDS)).unwrap();
    keep_next(&store, 300).unwrap();
    drop(store);
    all_kept(&Store::open(folder.path(), &OpenOptions::default()).unwrap(), &kept).unwrap();
}

/// The settings' file is durable when a setting is: without either of its syncs it doesn't outlive the database.
#[test]
fn settings_outlive_the_database() {
    let run = |fault: Fault| {
        let folder = tempfile::tempdir().unwrap();
        let disk = FaultyDisk::new(fault);
        let options = OpenOptions { disk: Arc::new(disk.clone()), ..OpenOptions::default() };
        let store = Store::open(folder.path(), &options).unwrap();
        keep_next(&store, 300).unwrap();
        let from = disk.steps().len();
        store.set_setting("shop", &json!("the bench")).unwrap();
        let to = disk.steps().len();
        drop(store);
        disk.drop_unsynced();
        fs::remove_file(folder.path().join("testimeter.sqlite")).unwrap();
        let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
        (store.setting("shop").unwrap(), disk.steps(), from..to)
    };
    let (kept, steps, ours) = run(Fault::None);
    assert_eq!(kept, Some(json!("the bench")));
    let syncs: Vec<usize> = ours.filter(|step| steps[*step].starts_with("sync")).collect();
    assert_eq!(syncs.len(), 2, "{steps:?}");
    for step in syncs {
        assert_eq!(run(Fault::Lies(step)).0, None, "nothing is lost without: {}", steps[step]);
    }
}

/// A journal that was changed by hand doesn't change the log, and a damaged one is written anew.
#[test]
fn a_damaged_journal_is_written_anew_and_a_forged_one_put_aside() {
    let folder = tempfile::tempdir().unwrap();
    shop(folder.path());
    let journal = folder.path().join("logs/job-1/device-1@shop-1.jsonl");
    let text = fs::read_to_string(&journal).unwrap();
    let cut = text.split_at(text.len() - 40).0;
    for damaged in [cut, "", "not json\n"] {
        fs::write(&journal, damaged).unwrap();
        let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
        assert!(store.notices().is_empty(), "{:?}", store.notices());
        assert_eq!(fs::read_to_string(&journal).unwrap(), text);
    }
    let changed = text.replacen("12.61 V", "11.61 V", 9);
    fs::write(&journal, &changed).unwrap();
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    let check = || store.check(&mut |_| ControlFlow::Continue(())).unwrap().found;
    let found = check();
    let [Notice::JournalDiffers { to, .. }] = found.as_slice() else { panic!("{found:?}") };
    assert_eq!(check(), []);
    assert_eq!(
        (fs::read_to_string(to).unwrap(), fs::read_to_string(&journal).unwrap()),
        (changed, text.clone())
    );
    drop(store);
    let second = tempfile::tempdir().unwrap();
    let other = Store::open(second.path(), &OpenOptions::default()).unwrap();
    for number in 0..RECORDS {
        let sealed = seal(&log(), &other.head(&log()).unwrap(), new_record(number, vec![]), &mut || [6; 16]);
        let sealed = sealed.unwrap();
        let signature = sign(&other, &log(), &sealed).unwrap();
        other.append(&AppendRequest::new(&log(), &sealed, signature)).unwrap();
    }
    let forged = fs::read(second.path().join("logs/job-1/device-1@shop-1.jsonl")).unwrap();
    fs::write(&journal, &forged).unwrap();
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    let [Notice::JournalDiffers { to, .. }] = store.notices() else { panic!("{:?}", store.notices()) };
    assert_eq!(fs::read(to).unwrap(), forged);
    assert_eq!(fs::read_to_string(&journal).unwrap(), text);
}
