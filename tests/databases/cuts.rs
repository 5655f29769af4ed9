//! Lost power under SQLite's own files and ours at once: a run is recorded write by write, then the disk of any moment is
//! made again with what was not synced lost, reordered or torn, and opened.

use std::fs;
use std::path::Path;
use std::sync::Arc;

use evidence::{Checkpoint, DeviceKey};
use serde_json::json;
use store::{OpenOptions, Store};

use crate::order::{sync_places, without};
use crate::recorded::Recorder;
use crate::sample::{JOB, Kept, keep_next, log};
use crate::sound::{all_kept, all_kept_without_database};
use crate::synced_disk::{SyncedDisk, Unsynced};
use crate::trace::Event;

/// 1,000 cuts with TESTIMETER_FULL=1, else 100.
fn cuts() -> usize {
    if std::env::var_os("TESTIMETER_FULL").is_some() { 1000 } else { 100 }
}

#[test]
fn power_may_be_cut_at_any_write_of_the_database_or_of_our_files() {
    let run = Run::record(3, 8);
    let writes = |name: &str| {
        let of = |event: &&Event| matches!(event, Event::Write(path, ..) if path == Path::new(name));
        run.events.iter().filter(of).count()
    };
    assert!(writes("testimeter.sqlite-wal") > 100, "the layer under SQLite saw nothing");
    assert!(writes("testimeter.sqlite") > 10, "no log was ever moved into the database");
    let (mut disk, mut said, mut at) = (SyncedDisk::default(), Said::default(), 0);
    for cut in 0..cuts() {
        // Spread over the whole run; the kinds of loss take turns at every place.
        let step = (cut + 1) * run.events.len() / cuts();
        for event in &run.events[at..step] {
            disk.apply(event);
            said.hear(event);
        }
        at = step;
        let seed = cut as u64;
        let unsynced = [Unsynced::Lost, Unsynced::PartlyKept(seed), Unsynced::Torn(seed)][cut % 3];
        run.survives(&disk, &said, unsynced, cut)
            .unwrap_or_else(|why| panic!("cut {cut}, {unsynced:?}, after step {step}: {why}"));
    }
}

/// A layer that sees everything must find each sync of the write-ahead log missing, and each of a journal.
#[test]
fn a_sync_left_out_under_sqlite_or_under_a_journal_is_found() {
    let run = Run::record(1, 4);
    let said = |event: &Event| matches!(event, Event::Said(_));
    let (first, last) =
        (run.events.iter().position(said).unwrap(), run.events.iter().rposition(said).unwrap());
    let named = |place: &usize| {
        let Event::Sync(path) = &run.events[*place] else { return false };
        path.extension().is_some_and(|kind| kind == "sqlite-wal" || kind == "jsonl")
    };
    let inside = |place: &usize| (first..last).contains(place);
    let places: Vec<usize> = sync_places(&run.events).into_iter().filter(inside).filter(named).collect();
    assert!(places.len() > 6, "{}", places.len());
    for place in places {
        let events = without(&run.events, place);
        let short = Run { events, ..Run::default() };
        let found = short.survives_every_acknowledgement();
        assert!(found.is_err(), "nothing is lost without {:?}", run.events[place]);
    }
}

/// What was recorded, and all it ever acknowledged.
#[derive(Default)]
struct Run {
    events: Vec<Event>,
    kept: Vec<Kept>,
}

/// What was acknowledged up to a moment.
#[derive(Default)]
struct Said {
    kept: Vec<Kept>,
    signed: Vec<u64>,
    setting: Option<u64>,
}

impl Said {
    fn hear(&mut self, event: &Event) {
        let Event::Said(line) = event else { return };
        let number = |word: &str| line.strip_prefix(word)?.trim().parse().ok();
        self.kept.extend(Kept::read(line));
        self.signed.extend(number("signed "));
        self.setting = number("set ").or(self.setting);
    }
}

impl Run {
    /// Records with photos, checkpoints and settings, in sessions that each end by closing the database.
    fn record(sessions: u64, records: u64) -> Self {
        let (folder, key) = (tempfile::tempdir().unwrap(), DeviceKey::from_seed([3; 32]));
        let recorder = Recorder::of(folder.path());
        let options = OpenOptions { disk: Arc::new(recorder.clone()), ..OpenOptions::default() };
        let mut run = Self::default();
        for session in 0..sessions {
            let store = Store::open(&folder.path().canonicalize().unwrap(), &options).unwrap();
            for number in 0..records {
                let kept = keep_next(&store, 700 + 300 * usize::try_from(number).unwrap()).unwrap();
                recorder.note(Event::Said(kept.line()));
                run.kept.push(kept);
                if number % 3 == 2 {
                    let size = store.head(&log()).unwrap().size;
                    let root = store.root(&log()).unwrap().unwrap();
                    let checkpoint = Checkpoint { origin: log().origin(), size, root };
                    store.append_checkpoint(&log(), &key.sign(&checkpoint)).unwrap();
                    recorder.note(Event::Said(format!("signed {size}\n")));
                }
                if number % 4 == 1 {
                    let value = session * records + number;
                    store.set_setting("number", &json!(value)).unwrap();
                    recorder.note(Event::Said(format!("set {value}\n")));
                }
            }
        }
        run.events = recorder.events();
        run
    }

    fn survives(&self, disk: &SyncedDisk, said: &Said, unsynced: Unsynced, cut: usize) -> Result<(), String> {
        let folder = tempfile::tempdir().unwrap();
        disk.write_out(folder.path(), unsynced, cut);
        let store = Store::open(folder.path(), &OpenOptions::default()).map_err(text)?;
        all_kept(&store, &said.kept)?;
        self.nothing_invented(&store)?;
        let signed: Vec<u64> =
            store.checkpoints(JOB).map_err(text)?.into_iter().map(|one| one.size).collect();
        if let Some(size) = said.signed.iter().find(|size| !signed.contains(size)) {
            return Err(format!("the checkpoint over {size} was acknowledged and is lost"));
        }
        let setting = store.setting("number").map_err(text)?.and_then(|value| value.as_u64());
        if setting < said.setting {
            return Err(format!("the setting {:?} was acknowledged, {setting:?} is there", said.setting));
        }
        store.verify_logs().map_err(text)?;
        journals_agree(&store)?;
        drop(store);
        let again = Store::open(folder.path(), &OpenOptions::default()).map_err(text)?;
        if !again.notices().is_empty() {
            return Err(format!("the next start still finds {:?}", again.notices()));
        }
        drop(again);
        all_kept_without_database(folder.path(), &said.kept)
    }

    /// Every record there is one of the run's, in its place.
    fn nothing_invented(&self, store: &Store) -> Result<(), String> {
        let there = store.job_records(JOB).map_err(text)?;
        let same = there.iter().zip(&self.kept).all(|(record, kept)| record.leaf == kept.leaf);
        if there.len() <= self.kept.len() && same {
            Ok(())
        } else {
            Err("a record that nobody kept".to_owned())
        }
    }

    fn survives_every_acknowledgement(&self) -> Result<(), String> {
        let (mut disk, mut said) = (SyncedDisk::default(), Said::default());
        for event in &self.events {
            disk.apply(event);
            said.hear(event);
            if !matches!(event, Event::Said(_)) {
                continue;
            }
            let folder = tempfile::tempdir().unwrap();
            disk.write_out(folder.path(), Unsynced::Lost, 0);
            let store = Store::open(folder.path(), &OpenOptions::default()).map_err(text)?;
            all_kept(&store, &said.kept)?;
            let signed = store.checkpoints(JOB).map_err(text)?.len();
            if signed < said.signed.len()
                || store.setting("number").map_err(text)?.is_none() && said.setting.is_some()
            {
                return Err("a checkpoint or a setting was acknowledged and is lost".to_owned());
            }
            drop(store);
            let folder = tempfile::tempdir().unwrap();
            disk.write_out(folder.path(), Unsynced::Lost, 0);
            all_kept_without_database(folder.path(), &said.kept)?;
            let store = Store::open(folder.path(), &OpenOptions::default()).map_err(text)?;
            if store.checkpoints(JOB).map_err(text)?.len() < said.signed.len() {
                return Err("a checkpoint was acknowledged and no journal has it".to_owned());
            }
        }
        Ok(())
    }
}

/// The journal as opening left it is the one that the database gives, byte for byte.
fn journals_agree(store: &Store) -> Result<(), String> {
    let path = store.folder().join("logs/job-1/device-1@shop-1.jsonl");
    let before = fs::read(&path).ok();
    let notices = store.check(&mut |_| std::ops::ControlFlow::Continue(())).map_err(text)?.found;
    if notices.is_empty() && fs::read(&path).ok() == before {
        Ok(())
    } else {
        Err(format!("the journal differed: {notices:?}"))
    }
}

fn text(error: impl std::fmt::Display) -> String {
    error.to_string()
}
