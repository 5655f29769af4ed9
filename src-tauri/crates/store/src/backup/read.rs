use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Read};

use evidence::Digest;
use evidence::packet::Progress;

use crate::backup::manifest::{End, ListedFile, Manifest};
use crate::backup::{BackupContents, END, MANIFEST, WITHIN, Watch};
use crate::hashing::Hashing;
use crate::{StoreError, passphrase};

/// A list of a million files has about 150 MB.
const LONGEST_LIST: u64 = 256 << 20;

/// Takes the files of a backup as they are read.
pub(super) trait Taker {
    /// The next file begins.
    fn begin(&mut self, path: &str) -> Result<(), StoreError>;
    /// More of it.
    fn more(&mut self, bytes: &[u8]) -> Result<(), StoreError>;
    /// It is whole and has the bytes it was listed with.
    fn whole(&mut self) -> Result<(), StoreError>;
}

/// Reads a backup to its end without keeping anything, and tells what is in it.
///
/// # Errors
/// [`StoreError::WrongPassphrase`], [`StoreError::TooCostly`], [`StoreError::NotABackup`];
/// [`StoreError::BackupDamaged`] tells what can be read and what can't; [`StoreError::Cancelled`].
pub fn check_backup(
    input: &mut dyn Read,
    passphrase: &str,
    watch: Watch<'_>,
) -> Result<BackupContents, StoreError> {
    struct Nothing;
    impl Taker for Nothing {
        fn begin(&mut self, _path: &str) -> Result<(), StoreError> {
            Ok(())
        }
        fn more(&mut self, _bytes: &[u8]) -> Result<(), StoreError> {
            Ok(())
        }
        fn whole(&mut self) -> Result<(), StoreError> {
            Ok(())
        }
    }
    walk(input, passphrase, &mut Nothing, watch)
}

/// Reads a backup from beginning to end; every file that is given to the taker as whole was authentic.
pub(super) fn walk(
    input: &mut dyn Read,
    passphrase: &str,
    taker: &mut dyn Taker,
    watch: Watch<'_>,
) -> Result<BackupContents, StoreError> {
    let stream = passphrase::open(input, passphrase)?;
    let mut walk =
        Walk { good: BTreeSet::new(), manifest: None, end: None, unlike: BTreeSet::new(), taker, watch };
    let mut archive = tar::Archive::new(stream);
    match walk.all(&mut archive) {
        Ok(()) => {}
        Err(Stop::Damage(why)) => return Err(walk.damaged(why)),
        Err(Stop::Error(error)) => return Err(error),
    }
    // Only the last chunk says that nothing was cut off.
    let drained = io::copy(&mut archive.into_inner(), &mut io::sink());
    match drained {
        Err(error) => Err(walk.damaged(error.to_string())),
        Ok(_) => walk.finished(),
    }
}

/// Why reading stopped: damage, which is told with what was readable, or anything else.
enum Stop {
    Damage(String),
    Error(StoreError),
}

impl From<StoreError> for Stop {
    fn from(error: StoreError) -> Self {
        Self::Error(error)
    }
}

impl From<io::Error> for Stop {
    fn from(error: io::Error) -> Self {
        Self::Damage(error.to_string())
    }
}

struct Walk<'a> {
    manifest: Option<(Manifest, BTreeMap<String, ListedFile>)>,
    good: BTreeSet<String>,
    end: Option<End>,
    /// Originals whose bytes don't have the hash of their name.
    unlike: BTreeSet<Digest>,
    taker: &'a mut dyn Taker,
    watch: Watch<'a>,
}

impl Walk<'_> {
    fn all<R: Read>(&mut self, archive: &mut tar::Archive<R>) -> Result<(), Stop> {
        let mut progress = Progress { done: 0, total: 0 };
        // Raw: no header of a name's or size's own is ever interpreted, because none is ever written.
        for entry in archive.entries()?.raw(true) {
            let mut entry = entry?;
            let (path, bytes) = named(&entry)?;
            if self.end.is_some() {
                return Err(Stop::Damage(format!("{path} follows the end")));
            }
            match path.as_str() {
                MANIFEST => self.read_manifest(&mut entry, bytes, &mut progress)?,
                END => self.end = Some(small(&mut entry, bytes)?),
                _ => self.file(&mut entry, &path, bytes, &mut progress)?,
            }
        }
        Ok(())
    }

    fn read_manifest(
        &mut self,
        entry: &mut dyn Read,
        bytes: u64,
        progress: &mut Progress,
    ) -> Result<(), Stop> {
        if self.manifest.is_some() {
            return Err(Stop::Damage("it has two lists".to_owned()));
        }
        let manifest: Manifest = small(entry, bytes)?;
        if manifest.version != 1 {
            let why = format!("its form {} is newer than this app; update the app", manifest.version);
            return Err(Stop::Error(StoreError::NotABackup { why }));
        }
        let files = manifest.by_path()?;
        progress.total = files.values().fold(0, |total: u64, file| total.saturating_add(file.bytes));
        self.manifest = Some((manifest, files));
        Ok(())
    }

    fn file(
        &mut self,
        entry: &mut dyn Read,
        path: &str,
        bytes: u64,
        progress: &mut Progress,
    ) -> Result<(), Stop> {
        let listed = self.manifest.as_ref().and_then(|(_, files)| files.get(path)).cloned();
        let listed = listed.filter(|listed| listed.bytes == bytes && !self.good.contains(path));
        let listed = listed.ok_or_else(|| Stop::Damage(format!("{path} isn't in its list like this")))?;
        self.taker.begin(path)?;
        let (mut hash, mut buffer) = (Hashing::default(), vec![0; 64 << 10]);
        loop {
            let read = entry.read(&mut buffer)?;
            let part = buffer.get(..read).unwrap_or_default();
            if part.is_empty() {
                break;
            }
            hash.add(part);
            self.taker.more(part)?;
            progress.done = progress.done.saturating_add(read as u64);
            if (self.watch)(*progress).is_break() {
                return Err(Stop::Error(StoreError::Cancelled));
            }
        }
        // An original that was damaged before has another hash; the end tells which ones those are.
        if hash.finish() != listed.sha256 {
            if !path.starts_with("originals/") {
                return Err(Stop::Damage(format!("{path} has other bytes than listed")));
            }
            self.unlike.insert(listed.sha256);
        }
        self.taker.whole()?;
        self.good.insert(path.to_owned());
        Ok(())
    }

    fn damaged(&self, why: String) -> StoreError {
        let contents = self.manifest.as_ref().map(|(manifest, _)| manifest.contents(&self.good));
        let contents = contents.unwrap_or_default();
        StoreError::BackupDamaged(Box::new(BackupContents { damage: Some(why), ..contents }))
    }

    fn finished(self) -> Result<BackupContents, StoreError> {
        let (Some((manifest, files)), Some(end)) = (&self.manifest, &self.end) else {
            return Err(self.damaged("its list or its end is missing".to_owned()));
        };
        if files.len() != self.good.len() {
            return Err(self.damaged("files of its list are missing".to_owned()));
        }
        if !self.unlike.iter().all(|digest| end.damaged.contains(digest)) {
            return Err(self.damaged("an original has other bytes than listed".to_owned()));
        }
        Ok(BackupContents { damaged_before: end.damaged.clone(), ..manifest.contents(&self.good) })
    }
}

fn named<R: Read>(entry: &tar::Entry<'_, R>) -> Result<(String, u64), Stop> {
    let header = entry.header();
    let path = String::from_utf8(entry.path_bytes().into_owned()).ok();
    let inside = path.as_deref().and_then(|path| path.strip_prefix(WITHIN)).map(str::to_owned);
    let regular = header.entry_type() == tar::EntryType::Regular;
    match inside {
        Some(path) if regular => Ok((path, header.size()?)),
        _ => Err(Stop::Damage("it holds something that isn't a plain file of ours".to_owned())),
    }
}

fn small<T: serde::de::DeserializeOwned>(entry: &mut dyn Read, bytes: u64) -> Result<T, Stop> {
    if bytes > LONGEST_LIST {
        return Err(Stop::Damage("its list is too long".to_owned()));
    }
    let mut text = Vec::new();
    entry.read_to_end(&mut text)?;
    serde_json::from_slice(&text).map_err(|error| Stop::Damage(format!("its list can't be read: {error}")))
}
