//! Every step of the file layer made to fail, to lose power, or to lie.

use std::io::ErrorKind;
use std::path::Path;
use std::sync::Arc;

use store::{OpenOptions, Store, StoreError};

use crate::faulty_disk::{Fault, FaultyDisk};
use crate::programs::run_well;
use crate::sample::{Kept, device_key, keep_next};
use crate::sound::{all_kept, all_kept_without_database};

#[test]
fn a_failing_step_is_told_and_harms_nothing() {
    for kind in [ErrorKind::StorageFull, ErrorKind::ReadOnlyFilesystem, ErrorKind::Other] {
        for step in work_steps() {
            let trial = Trial::run(Fault::Fails(step, kind));
            let told =
                trial.errors.iter().map(ToString::to_string).chain(trial.journal_trouble.clone()).next();
            let told = told.unwrap_or_else(|| panic!("step {step} failed and nobody was told"));
            let fits = match kind {
                ErrorKind::StorageFull => told.starts_with("The device is full"),
                ErrorKind::ReadOnlyFilesystem => told.contains("can't be written to"),
                _ => told.starts_with("Could not"),
            };
            assert!(fits, "step {step} failed with {kind:?} and was told as: {told}");
            trial.nothing_acknowledged_is_lost().unwrap();
        }
    }
}

#[test]
fn lost_power_at_each_step_loses_nothing_acknowledged() {
    for step in work_steps() {
        let trial = Trial::run(Fault::PowerCut(step));
        trial.disk.drop_unsynced();
        trial.nothing_acknowledged_is_lost().unwrap_or_else(|why| panic!("step {step}: {why}"));
    }
}

/// Each sync the work relies on, not really done, must be found out by the same trial.
#[test]
fn a_sync_that_was_not_done_loses_something() {
    let steps = Trial::run(Fault::None).disk.steps();
    let syncs: Vec<usize> = work_steps().filter(|step| steps[*step].starts_with("sync")).collect();
    assert_eq!(
        syncs.len(),
        1 + 2 + 2 + 2 + 3 + 3 + 3 + 1,
        "a key's public half, the key, the list of known keys twice, two photos, a journal begun and continued"
    );
    // A second photo or record syncs the same folders and the same journal again, which would make up for the first.
    let of_first = Trial::run_part(Fault::None, 1).disk.steps().len();
    // Of the seven syncs in the keys' folder, the folder's own make up for each other; the public half and the list can be
    // written anew from the key.
    let (keys, others) = syncs.split_at(7);
    let (public_half, key) = (keys[0], keys[1]);
    for &step in [key].iter().chain(others) {
        let trial = if step < of_first {
            Trial::run_part(Fault::Lies(step), 1)
        } else {
            Trial::run(Fault::Lies(step))
        };
        trial.disk.drop_unsynced();
        let lost = trial.nothing_acknowledged_is_lost();
        assert!(lost.is_err(), "nothing is lost without: {}", steps[step]);
    }
    // The public half alone is derived: it is written anew from the private one.
    let trial = Trial::run(Fault::Lies(public_half));
    trial.disk.drop_unsynced();
    trial.nothing_acknowledged_is_lost().unwrap();
}

/// One run over a disk with a fault: the key, and two photos with their records.
struct Trial {
    folder: tempfile::TempDir,
    disk: FaultyDisk,
    kept: Vec<Kept>,
    key_kept: bool,
    errors: Vec<StoreError>,
    journal_trouble: Option<String>,
}

impl Trial {
    fn run(fault: Fault) -> Self {
        Self::run_part(fault, 2)
    }

    fn run_part(fault: Fault, records: usize) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let (disk, mut errors) = (FaultyDisk::new(fault), Vec::new());
        let (mut kept, mut key_kept, mut journal_trouble) = (Vec::new(), false, None);
        match Store::open(
            folder.path(),
            &OpenOptions { disk: Arc::new(disk.clone()), ..OpenOptions::default() },
        ) {
            Err(error) => errors.push(error),
            Ok(store) => {
                let key = store.keep_device_key(&device_key());
                key.map_or_else(|error| errors.push(error), |()| key_kept = true);
                for _ in 0..records {
                    keep_next(&store, 900).map_or_else(|error| errors.push(error), |next| kept.push(next));
                    journal_trouble = journal_trouble.or(store.journal_trouble());
                }
            }
        }
        Self { folder, disk, kept, key_kept, errors, journal_trouble }
    }

    fn nothing_acknowledged_is_lost(&self) -> Result<(), String> {
        if self.journal_trouble.is_none() {
            let copy = tempfile::tempdir().unwrap();
            let (from, to) = (format!("{}/.", self.folder.path().display()), copy.path().to_str().unwrap());
            run_well("cp", &["-r", &from, to]);
            all_kept_without_database(copy.path(), &self.kept)?;
        }
        let store = open(self.folder.path())?;
        all_kept(&store, &self.kept)?;
        let key = store.device_key().map_err(|error| error.to_string())?;
        let same = key.is_some_and(|stored| stored.key.public() == device_key().public());
        if self.key_kept && !same {
            return Err("the key was acknowledged and is lost".into());
        }
        drop(store);
        let again = open(self.folder.path())?;
        // Without a key, which a power cut may take before it was acknowledged, every start says so.
        if again.notices().iter().all(|notice| matches!(notice, store::Notice::KeysBelieved { .. })) {
            Ok(())
        } else {
            Err(format!("not clean again: {:?}", again.notices()))
        }
    }
}

fn open(folder: &Path) -> Result<Store, String> {
    Store::open(folder, &OpenOptions::default()).map_err(|error| error.to_string())
}

/// The steps after those of opening, which acknowledge nothing.
fn work_steps() -> std::ops::Range<usize> {
    let (folder, disk) = (tempfile::tempdir().unwrap(), FaultyDisk::new(Fault::None));
    drop(
        Store::open(folder.path(), &OpenOptions { disk: Arc::new(disk.clone()), ..OpenOptions::default() })
            .unwrap(),
    );
    disk.steps().len()..Trial::run(Fault::None).disk.steps().len()
}
