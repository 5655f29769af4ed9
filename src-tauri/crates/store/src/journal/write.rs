use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use evidence::{Digest, Disclosure, LogId, SignedCheckpoint};
use rusqlite::Connection;

use crate::disk::{Keeping, keep};
use crate::journal::line::{checkpoint_line, forgotten_line, heading_line, record_line};
use crate::log::{LogState, digest};
use crate::{Access, Disk, StoreError};

/// Lines to add to one log's journal.
pub(crate) struct Entry {
    pub(crate) log: LogId,
    /// Whole lines; empty when the file must be written anew, because something within it changed.
    pub(crate) lines: String,
}

/// The folder of journals, and which of them don't hold yet what the database holds.
pub(crate) struct Journal {
    folder: PathBuf,
    behind: Mutex<BTreeMap<LogId, String>>,
}

impl Journal {
    pub(crate) fn new(folder: PathBuf) -> Self {
        Self { folder, behind: Mutex::new(BTreeMap::new()) }
    }

    pub(crate) fn folder(&self) -> &Path {
        &self.folder
    }

    /// Where a log's journal lies. `@` stands in no identifier, so no two logs share a name.
    pub(crate) fn path(&self, log: &LogId) -> PathBuf {
        self.folder.join(&log.job).join(format!("{}@{}.jsonl", log.device, log.shop))
    }

    /// Adds lines that the database has just committed. What fails is remembered and made up for at the next try.
    pub(crate) fn add(&self, disk: &dyn Disk, temporary: &Path, connection: &Connection, entry: &Entry) {
        let path = self.path(&entry.log);
        let whole = entry.lines.is_empty() || self.is_behind(&entry.log) || !path.exists();
        let added = if whole {
            self.write_anew(disk, temporary, connection, &entry.log)
        } else {
            add_lines(disk, &path, &entry.lines)
        };
        self.note(&entry.log, added);
    }

    /// Replaces a journal by what the database holds: written beside it, synced, renamed.
    pub(crate) fn write_anew(
        &self,
        disk: &dyn Disk,
        temporary: &Path,
        connection: &Connection,
        log: &LogId,
    ) -> Result<(), StoreError> {
        let (path, folder) = (self.path(log), self.folder.join(&log.job));
        let text = text_of(connection, log)?;
        disk.create_folder(&folder).map_err(|error| StoreError::file("create", &folder, error))?;
        let folders = [folder.as_path(), self.folder.as_path()];
        let keeping = Keeping { temporary, target: &path, access: Access::OwnerOnly, folders: &folders };
        keep(disk, &keeping, text.as_bytes())
    }

    pub(crate) fn note(&self, log: &LogId, done: Result<(), StoreError>) {
        let mut behind = self.behind.lock().unwrap_or_else(PoisonError::into_inner);
        match done {
            Ok(()) => drop(behind.remove(log)),
            Err(error) => drop(behind.insert(log.clone(), error.to_string())),
        }
    }

    /// Why a journal is behind its log, for the first that is.
    pub(crate) fn trouble(&self) -> Option<String> {
        self.behind.lock().unwrap_or_else(PoisonError::into_inner).values().next().cloned()
    }

    fn is_behind(&self, log: &LogId) -> bool {
        self.behind.lock().unwrap_or_else(PoisonError::into_inner).contains_key(log)
    }
}

fn add_lines(disk: &dyn Disk, path: &Path, lines: &str) -> Result<(), StoreError> {
    let mut file = disk.append(path).map_err(|error| StoreError::file("open", path, error))?;
    file.write(lines.as_bytes()).map_err(|error| StoreError::file("write", path, error))?;
    file.sync().map_err(|error| StoreError::file("sync", path, error))
}

/// A log as lines, each checkpoint after the last record it covers.
pub(crate) fn text_of(connection: &Connection, log: &LogId) -> Result<String, StoreError> {
    let mut text = heading_line(log);
    let forgotten = forgotten_of(connection, &log.job)?;
    if !forgotten.is_empty() {
        text.push_str(&forgotten_line(&forgotten)?);
    }
    let Some(state) = LogState::find(connection, log)? else { return Ok(text) };
    let mut checkpoints = checkpoints_of(connection, state.log)?;
    let mut statement = connection.prepare_cached(include_str!("../sql/records_of_log.sql"))?;
    let mut rows = statement.query([state.log])?;
    while let Some(row) = rows.next()? {
        let (record, sequence, bytes): (i64, u64, Vec<u8>) = (row.get(0)?, row.get(1)?, row.get(2)?);
        text.push_str(&record_line(&bytes, &disclosures_of(connection, record)?)?);
        if let Some(signed) = checkpoints.remove(&sequence.saturating_add(1)) {
            text.push_str(&checkpoint_line(&signed)?);
        }
    }
    Ok(text)
}

fn forgotten_of(connection: &Connection, job: &str) -> Result<Vec<Digest>, StoreError> {
    let find = "SELECT digest FROM forgotten WHERE job = ? ORDER BY digest";
    let mut statement = connection.prepare_cached(find)?;
    let digests: BTreeSet<Digest> =
        statement.query_map([job], |row| digest(row, 0))?.collect::<Result<_, _>>()?;
    Ok(digests.into_iter().collect())
}

fn checkpoints_of(connection: &Connection, log: i64) -> Result<BTreeMap<u64, SignedCheckpoint>, StoreError> {
    let find = "SELECT size, text, signature, note FROM checkpoints WHERE log = ?";
    let mut statement = connection.prepare_cached(find)?;
    let rows = statement.query_map([log], |row| {
        let signed = SignedCheckpoint { text: row.get(1)?, signature: row.get(2)?, note: row.get(3)? };
        Ok((row.get(0)?, signed))
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

fn disclosures_of(connection: &Connection, record: i64) -> Result<Vec<Disclosure>, StoreError> {
    let find = "SELECT encoded FROM disclosures WHERE record = ? ORDER BY position";
    let mut statement = connection.prepare_cached(find)?;
    let encoded = statement.query_map([record], |row| row.get::<_, String>(0))?;
    encoded.map(|text| Ok(Disclosure::parse(&text?)?)).collect()
}
