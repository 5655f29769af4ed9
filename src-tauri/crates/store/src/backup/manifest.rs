use std::collections::{BTreeMap, BTreeSet};

use evidence::Digest;
use serde::{Deserialize, Serialize};

use crate::StoreError;
use crate::backup::{DATABASE, KEY};

/// The tar's first file: what follows, so that a damaged backup can still say what it misses.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct Manifest {
    pub(super) version: u32,
    pub(super) files: Vec<ListedFile>,
    pub(super) jobs: Vec<ListedJob>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
pub(super) struct ListedFile {
    pub(super) path: String,
    pub(super) bytes: u64,
    pub(super) sha256: Digest,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct ListedJob {
    pub(super) job: String,
    pub(super) number: u64,
    pub(super) title: String,
    pub(super) records: u64,
    pub(super) originals: Vec<Digest>,
}

/// The tar's last file.
#[derive(Debug, Default, Serialize, Deserialize)]
pub(super) struct End {
    /// Originals that no longer had the bytes of their name when the backup was made.
    pub(super) damaged: Vec<Digest>,
}

/// What a backup holds, as far as it can be read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BackupContents {
    /// What is wrong, where it is; `None` when all of it is as it was written.
    pub damage: Option<String>,
    /// Its jobs; empty when the damage is before the list of them.
    pub jobs: Vec<BackupJob>,
    /// How many files are readable and have the bytes they were written with.
    pub files_readable: u64,
    /// Paths of the files that aren't.
    pub files_missing: Vec<String>,
    /// Whether the device's private key is in it, in use or protected by its own passphrase.
    pub has_key: bool,
    /// Originals that were damaged already when the backup was made.
    pub damaged_before: Vec<Digest>,
}

/// One job in a backup.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BackupJob {
    /// The job's id.
    pub job: String,
    /// The shop's running number.
    pub number: u64,
    /// One line about it.
    pub title: String,
    /// How many records it has.
    pub records: u64,
    /// Whether its records are readable.
    pub records_readable: bool,
    /// How many originals it names.
    pub originals: u64,
    /// How many of them are not readable.
    pub originals_missing: u64,
}

impl Manifest {
    /// Compares what was announced with what was read.
    pub(super) fn contents(&self, good: &BTreeSet<String>) -> BackupContents {
        let missing = |file: &&ListedFile| !good.contains(&file.path);
        let files_missing = self.files.iter().filter(missing).map(|file| file.path.clone()).collect();
        let originals: BTreeSet<Digest> =
            self.files.iter().filter(|file| good.contains(&file.path)).map(|file| file.sha256).collect();
        let jobs = self.jobs.iter().map(|job| job.readable(&originals, good.contains(DATABASE))).collect();
        let (files_readable, has_key) = (good.len() as u64, self.files.iter().any(|file| file.path == KEY));
        BackupContents { jobs, files_readable, files_missing, has_key, ..BackupContents::default() }
    }

    /// Files by path; refuses two of one path and paths that aren't ours.
    pub(super) fn by_path(&self) -> Result<BTreeMap<String, ListedFile>, StoreError> {
        let mut files = BTreeMap::new();
        for file in &self.files {
            if !is_ours(&file.path) || files.insert(file.path.clone(), file.clone()).is_some() {
                let why = format!("its list names {:?}, which no backup holds", file.path);
                return Err(StoreError::NotABackup { why });
            }
        }
        Ok(files)
    }
}

impl ListedJob {
    fn readable(&self, originals: &BTreeSet<Digest>, records_readable: bool) -> BackupJob {
        let missing = self.originals.iter().filter(|digest| !originals.contains(digest)).count();
        let (job, number, title, records) = (self.job.clone(), self.number, self.title.clone(), self.records);
        let (originals, originals_missing) = (self.originals.len() as u64, missing as u64);
        BackupJob { job, number, title, records, records_readable, originals, originals_missing }
    }
}

/// Only these places are ever written to: the database, keys, originals; at most three plain names deep.
fn is_ours(path: &str) -> bool {
    let plain = |name: &str| {
        let allowed = |byte: u8| byte.is_ascii_alphanumeric() || b"._-".contains(&byte);
        name.bytes().next().is_some_and(|byte| byte.is_ascii_alphanumeric()) && name.bytes().all(allowed)
    };
    let parts: Vec<&str> = path.split('/').collect();
    let place =
        matches!(parts.as_slice(), [DATABASE] | ["keys", _] | ["keys", "earlier", _] | ["originals", _, _]);
    place && parts.into_iter().all(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_our_places_are_written_to() {
        for path in
            ["testimeter.sqlite", "keys/device.pem", "keys/earlier/0001.pub.pem", "originals/ab/abcd.jpg"]
        {
            assert!(is_ours(path), "{path}");
        }
        for path in [
            "",
            "/etc/passwd",
            "../keys/device.pem",
            "keys/..",
            "keys/../x",
            "originals/../x",
            "lock",
            "keys//x",
            "keys/.x",
        ] {
            assert!(!is_ours(path), "{path}");
        }
    }
}
