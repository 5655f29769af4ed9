//! Whether a folder still holds everything that was acknowledged, and nothing that contradicts itself.

use std::fs;
use std::path::Path;

use evidence::{Digest, Record, tree};
use store::{Notice, OpenOptions, Store};

use crate::sample::{JOB, Kept, log, summary};

/// Every acknowledged record is there with its photo; the chain and the root hold; no record names a lost photo.
pub fn all_kept(store: &Store, kept: &[Kept]) -> Result<(), String> {
    no_damage(store)?;
    let records = store.job_records(JOB).map_err(text)?;
    for acknowledged in kept {
        let at = usize::try_from(acknowledged.sequence).map_err(text)?;
        let record = records.get(at).ok_or_else(|| format!("record {at} was acknowledged and is lost"))?;
        if record.leaf != acknowledged.leaf {
            return Err(format!("record {at} isn't the one acknowledged"));
        }
        store.original(&acknowledged.photo).map_err(text)?;
    }
    chain_holds(store)
}

/// The same without the database: the journals and the originals give back all that was acknowledged.
pub fn all_kept_without_database(folder: &Path, kept: &[Kept]) -> Result<(), String> {
    for name in ["testimeter.sqlite", "testimeter.sqlite-wal", "testimeter.sqlite-shm"] {
        let _ = fs::remove_file(folder.join(name));
    }
    let store = Store::open(folder, &OpenOptions::default()).map_err(text)?;
    let expected = |notice: &&Notice| {
        !matches!(
            notice,
            Notice::LeftoversSwept { .. }
                | Notice::KeysBelieved { .. }
                | Notice::FolderExposed { .. }
                | Notice::DatabaseRebuilt(_)
                | Notice::RecordsRecovered { left_behind: 0, complaint: None, .. }
        )
    };
    if let Some(notice) = store.notices().iter().find(expected) {
        return Err(format!("{notice:?}"));
    }
    for job in store.jobs_to_fold().map_err(text)? {
        let records = store.job_size(&job).map_err(text)?;
        store.keep_summary(&summary(records)).map_err(text)?;
    }
    drop(store);
    let store = Store::open(folder, &OpenOptions::default()).map_err(text)?;
    all_kept(&store, kept)
}

fn no_damage(store: &Store) -> Result<(), String> {
    // The tests' own copies of a folder are open to others, as an older version's were.
    let harmless = |notice: &Notice| {
        matches!(
            notice,
            Notice::LeftoversSwept { .. } | Notice::FolderExposed { .. } | Notice::KeysBelieved { .. }
        )
    };
    let damage = |notice: &&Notice| !harmless(notice);
    store.notices().iter().find(damage).map_or(Ok(()), |notice| Err(format!("{notice:?}")))
}

/// From the bytes alone: each record's hash, the link to the one before, the root over all, and its photos' hashes.
fn chain_holds(store: &Store) -> Result<(), String> {
    let mut leaves: Vec<Digest> = Vec::new();
    for stored in store.job_records(JOB).map_err(text)? {
        let record = Record::parse(&stored.bytes).map_err(text)?;
        if record.previous != leaves.last().copied() || record.sequence != leaves.len() as u64 {
            return Err(format!("record {} doesn't follow the one before", record.sequence));
        }
        for photo in &record.photos {
            store.original(&photo.sha256).map_err(text)?;
        }
        leaves.push(tree::leaf(&stored.bytes));
    }
    let root = store.root(&log()).map_err(text)?;
    let same = root.is_none_or(|root| root == tree::root(&leaves)) && root.is_none() == leaves.is_empty();
    let listed = store.jobs("7kx042", 10, None).map_err(text)?.rows.len() == usize::from(!leaves.is_empty());
    if same && listed { Ok(()) } else { Err("the root or the list row doesn't belong to the records".into()) }
}

fn text(error: impl std::fmt::Display) -> String {
    error.to_string()
}
