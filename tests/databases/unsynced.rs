//! Every step of the file layer made to fail, to lose power, or to lie.

use std::io::ErrorKind;
use std::path::Path;
use std::sync::Arc;

use evidence::DeviceKey;
use store::{OpenOptions, Store, StoreError};

use crate::faulty_disk::{Fault, FaultyDisk};
use crate::sample::{Kept, keep_next};
use crate::sound::all_kept;

const SEED: [u8; 32] = [42; 32];

#[test]
fn a_failing_step_is_told_and_harms_nothing() {
    for kind in [ErrorKind::StorageFull, ErrorKind::ReadOnlyFilesystem, ErrorKind::Other] {
        for step in work_steps() {
            let trial = Trial::run(Fault::Fails(step, kind));
            let told =
                trial.errors.first().unwrap_or_else(|| panic!("step {step} failed and nobody was told"));
            let fits = match kind {
                ErrorKind::StorageFull => matches!(told, StoreError::DiskFull),
                ErrorKind::ReadOnlyFilesystem => matches!(told, StoreError::ReadOnly { .. }),
                _ => matches!(told, StoreError::File { .. }),
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
    assert_eq!(syncs.len(), 3 + 3 + 2, "two photos and a key: {steps:?}");
    for step in syncs {
        let trial = Trial::run(Fault::Lies(step));
        trial.disk.drop_unsynced();
        let lost = trial.nothing_acknowledged_is_lost();
        // The shards' own folder is synced again with the second photo, which makes up for the first.
        let made_good = steps[step].ends_with("originals") && steps[step + 1..].contains(&steps[step]);
        assert!(lost.is_err() || made_good, "nothing is lost without: {}", steps[step]);
    }
}

/// One run over a disk with a fault: two photos with their records, and the key.
struct Trial {
    folder: tempfile::TempDir,
    disk: FaultyDisk,
    kept: Vec<Kept>,
    key_kept: bool,
    errors: Vec<StoreError>,
}

impl Trial {
    fn run(fault: Fault) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let (disk, mut errors) = (FaultyDisk::new(fault), Vec::new());
        let (mut kept, mut key_kept) = (Vec::new(), false);
        match Store::open(folder.path(), &OpenOptions { disk: Arc::new(disk.clone()) }) {
            Err(error) => errors.push(error),
            Ok(store) => {
                for _ in 0..2 {
                    keep_next(&store, 900).map_or_else(|error| errors.push(error), |next| kept.push(next));
                }
                let key = store.keep_device_key(&DeviceKey::from_seed(SEED));
                key.map_or_else(|error| errors.push(error), |()| key_kept = true);
            }
        }
        Self { folder, disk, kept, key_kept, errors }
    }

    fn nothing_acknowledged_is_lost(&self) -> Result<(), String> {
        let store = open(self.folder.path())?;
        all_kept(&store, &self.kept)?;
        let key = store.device_key().map_err(|error| error.to_string())?;
        let same = key.is_some_and(|stored| stored.key.public() == DeviceKey::from_seed(SEED).public());
        if self.key_kept && !same {
            return Err("the key was acknowledged and is lost".into());
        }
        drop(store);
        let again = open(self.folder.path())?;
        if again.notices().is_empty() {
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
    drop(Store::open(folder.path(), &OpenOptions { disk: Arc::new(disk.clone()) }).unwrap());
    disk.steps().len()..Trial::run(Fault::None).disk.steps().len()
}
