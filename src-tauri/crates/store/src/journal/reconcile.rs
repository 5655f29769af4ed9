//! At the start: every journal against its log. One whose length isn't the one that was left is read and settled; one
//! that no log is known for gives its records back (the database was lost, replaced or rolled back).

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use evidence::LogId;

use crate::journal::{put_length, text_of};
use crate::originals::listed;
use crate::{Notice, Store, StoreError};

impl Store {
    /// Settles every journal that isn't as long as it was left. Returns what the user should hear.
    ///
    /// Only lengths are looked at, because a shop has as many journals as jobs; bytes are compared when a job is read
    /// and by [`Store::check`].
    pub(crate) fn reconcile_journals(&self, database_lost: bool) -> Result<Vec<Notice>, StoreError> {
        let (logs, jobs) = self.logs_by_journal_length()?;
        let mut notices = Vec::new();
        for (log, expected) in logs {
            let length = fs::metadata(self.journal.path(&log)).ok().map(|data| data.len());
            if expected.is_none() || length != expected {
                notices.extend(self.mend(&log)?);
            }
        }
        for path in unknown_journals(self.journal.folder(), &jobs)? {
            notices.extend(self.take_back(&path, database_lost)?);
        }
        Ok(notices)
    }

    /// Every log with the length its journal is to have, and every job.
    #[expect(clippy::type_complexity, reason = "two lists from one pass over the table")]
    fn logs_by_journal_length(&self) -> Result<(Vec<(LogId, Option<u64>)>, BTreeSet<String>), StoreError> {
        let connection = self.database();
        let mut statement = connection.prepare("SELECT shop, job, device, journal_bytes FROM logs")?;
        let rows = statement.query_map([], |row| Ok((crate::log::log_id(row, 0)?, row.get::<_, i64>(3)?)))?;
        let (mut logs, mut jobs) = (Vec::new(), BTreeSet::new());
        for row in rows {
            let (log, length) = row?;
            jobs.insert(log.job.clone());
            logs.push((log, u64::try_from(length).ok()));
        }
        Ok((logs, jobs))
    }

    pub(crate) fn rewrite_journal(&self, log: &LogId) {
        let connection = self.database();
        let temporary = self.folder.temporary();
        let written = text_of(&connection, log).and_then(|text| {
            self.journal.write_whole(self.disk.as_ref(), &temporary, log, &text)?;
            put_length(&connection, log, Some(text.len() as u64))
        });
        self.journal.note(log, written);
    }

    pub(crate) fn note_journal_length(&self, log: &LogId, length: u64) -> Result<(), StoreError> {
        put_length(&self.database(), log, Some(length))
    }
}

/// Journals of jobs that no log is known of.
fn unknown_journals(folder: &Path, jobs: &BTreeSet<String>) -> Result<Vec<PathBuf>, StoreError> {
    let known = |path: &PathBuf| {
        path.file_name().and_then(|name| name.to_str()).is_some_and(|name| jobs.contains(name))
    };
    let mut found = Vec::new();
    for job in listed(folder)?.into_iter().filter(|path| !known(path)) {
        found.extend(journals_of_job(&job));
    }
    found.sort();
    Ok(found)
}

/// Every journal in the folder, sorted.
pub(crate) fn journals(folder: &Path) -> Result<Vec<PathBuf>, StoreError> {
    let mut found = Vec::new();
    for job in listed(folder)? {
        found.extend(journals_of_job(&job));
    }
    found.sort();
    Ok(found)
}

/// The journals in one job's folder; none where that is no folder.
fn journals_of_job(folder: &Path) -> Vec<PathBuf> {
    let journal = |path: &PathBuf| path.extension().is_some_and(|extension| extension == "jsonl");
    listed(folder).unwrap_or_default().into_iter().filter(journal).collect()
}
