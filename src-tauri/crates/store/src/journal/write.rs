use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use evidence::LogId;
use rusqlite::{Connection, OptionalExtension};

use crate::disk::{Keeping, keep};
use crate::journal::text::text_of;
use crate::{Access, Disk, StoreError};

/// Lines to add to one log's journal.
pub(crate) struct Entry {
    pub(crate) log: LogId,
    /// Whole lines; empty when the file must be written anew, because something within it changed.
    pub(crate) lines: String,
}

/// What a journal gets once the database has committed.
pub(crate) struct Planned {
    log: LogId,
    /// Whether the text replaces the file.
    whole: bool,
    /// Whether the file was changed by somebody else since it was last written.
    strange: bool,
    text: String,
}

impl Planned {
    pub(crate) fn log(&self) -> &LogId {
        &self.log
    }
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

    /// What is to be written once the transaction is committed, whose rows are told the length that the file will have.
    pub(crate) fn plan(&self, connection: &Connection, entry: Entry) -> Result<Planned, StoreError> {
        let (path, Entry { log, lines }) = (self.path(&entry.log), entry);
        let known = length_of(connection, &log)?;
        let length = fs::metadata(&path).ok().map(|data| data.len());
        let expected = known.is_some() && length == known;
        let whole = lines.is_empty() || self.is_behind(&log) || !expected;
        // A file of another length than was left may hold what is nowhere else.
        let strange = whole && !expected && known.is_some() && length.is_some() && !self.is_behind(&log);
        let text = if whole { text_of(connection, &log)? } else { lines };
        let after = if whole { 0 } else { known.unwrap_or(0) }.saturating_add(text.len() as u64);
        put_length(connection, &log, Some(after))?;
        Ok(Planned { log, whole, strange, text })
    }

    /// Writes what was planned. What fails is remembered and made up for at the next try. Returns whether the file that was
    /// there is to be looked at, and was put aside.
    pub(crate) fn carry_out(&self, disk: &dyn Disk, temporary: &Path, planned: &Planned) -> Option<PathBuf> {
        let path = self.path(&planned.log);
        let aside = planned.strange.then(|| free_name(&path)).filter(|to| disk.rename(&path, to).is_ok());
        let done = if planned.whole {
            self.write_whole(disk, temporary, &planned.log, &planned.text)
        } else {
            add_lines(disk, &path, &planned.text)
        };
        self.note(&planned.log, done);
        aside
    }

    /// Replaces a journal by what the database holds: written beside it, synced, renamed.
    pub(crate) fn write_whole(
        &self,
        disk: &dyn Disk,
        temporary: &Path,
        log: &LogId,
        text: &str,
    ) -> Result<(), StoreError> {
        let (path, folder) = (self.path(log), self.folder.join(&log.job));
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

/// The first name of the form `….differs-N` that is free beside a journal.
pub(crate) fn free_name(path: &Path) -> PathBuf {
    let free =
        (1_u32..).map(|number| path.with_extension(format!("differs-{number}"))).find(|to| !to.exists());
    free.unwrap_or_else(|| path.with_extension("differs"))
}

/// How long a log's journal is to be; `None` where nobody has measured it.
fn length_of(connection: &Connection, log: &LogId) -> Result<Option<u64>, StoreError> {
    let find = "SELECT journal_bytes FROM logs WHERE shop = ? AND job = ? AND device = ?";
    let mut statement = connection.prepare_cached(find)?;
    let length: Option<i64> =
        statement.query_row((&log.shop, &log.job, &log.device), |row| row.get(0)).optional()?;
    Ok(length.and_then(|length| u64::try_from(length).ok()))
}

/// Notes how long a log's journal is.
pub(crate) fn put_length(
    connection: &Connection,
    log: &LogId,
    length: Option<u64>,
) -> Result<(), StoreError> {
    let length = length.and_then(|length| i64::try_from(length).ok()).unwrap_or(-1);
    let put = "UPDATE logs SET journal_bytes = ?4 WHERE shop = ?1 AND job = ?2 AND device = ?3 AND journal_bytes <> ?4";
    connection.prepare_cached(put)?.execute((&log.shop, &log.job, &log.device, length))?;
    Ok(())
}
