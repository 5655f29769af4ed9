//! At the start: every journal against its log. A journal that is behind is written anew; one that holds more than a
//! sound log does (the database was lost, replaced or rolled back) gives its records back.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{BufReader, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

use evidence::{LogId, tree};

use crate::journal::line::Line;
use crate::journal::{Contents, read, text_of};
use crate::log::{LogState, log_id};
use crate::originals::listed;
use crate::{Notice, Store, StoreError, foreign};

impl Store {
    /// Compares every journal's end with its log and settles every difference. Returns what the user should hear.
    pub(crate) fn reconcile_journals(&self) -> Result<Vec<Notice>, StoreError> {
        let logs = self.logs_by_journal()?;
        let mut notices = Vec::new();
        for (path, (log, state)) in &logs {
            if self.damaged.contains(&state.log) || agrees(path, state, self.signed_at_end(state)?) {
                continue;
            }
            notices.extend(self.take_back(path)?);
            self.rewrite_journal(log);
        }
        for path in journals(self.journal.folder())?.iter().filter(|path| !logs.contains_key(*path)) {
            notices.extend(self.take_back(path)?);
        }
        Ok(notices)
    }

    /// Compares every journal with its log from the first byte to the last, as the start can't afford to, and settles every
    /// difference. For a quiet moment, such as before a backup.
    ///
    /// # Errors
    /// Those of the files and the database.
    pub fn check_journals(&self) -> Result<Vec<Notice>, StoreError> {
        let mut notices = Vec::new();
        for (path, (log, state)) in self.logs_by_journal()? {
            let text = text_of(&self.database(), &log)?;
            let same = std::fs::read(&path).is_ok_and(|kept| kept == text.as_bytes());
            if self.damaged.contains(&state.log) || same {
                continue;
            }
            notices.extend(self.take_back(&path)?);
            self.rewrite_journal(&log);
        }
        Ok(notices)
    }

    fn logs_by_journal(&self) -> Result<BTreeMap<PathBuf, (LogId, LogState)>, StoreError> {
        let connection = self.database();
        let all = "SELECT log, size, last_leaf, root, frontier, shop, job, device FROM logs";
        let mut statement = connection.prepare(all)?;
        let rows = statement.query_map([], |row| Ok((log_id(row, 5)?, LogState::read(row)?)))?;
        let keyed = |row: rusqlite::Result<(LogId, LogState)>| {
            let (log, state) = row?;
            Ok((self.journal.path(&log), (log, state)))
        };
        rows.map(keyed).collect()
    }

    /// Whether the newest record has a checkpoint, which is then the journal's last line.
    fn signed_at_end(&self, state: &LogState) -> Result<bool, StoreError> {
        let find = "SELECT count(*) > 0 FROM checkpoints WHERE log = ? AND size = ?";
        Ok(self.database().prepare_cached(find)?.query_row((state.log, state.size), |row| row.get(0))?)
    }

    /// Brings into the database what a journal holds beyond it.
    fn take_back(&self, path: &Path) -> Result<Option<Notice>, StoreError> {
        let Ok(file) = File::open(path) else { return Ok(None) };
        let contents = read(&mut BufReader::new(file));
        let Contents { copy: Some(copy), complaint } = contents else { return Ok(None) };
        let (copied, broken) = foreign::sound_part(copy);
        let complaint = broken.or(complaint);
        let (log, before) = (copied.log.origin(), self.head(&copied.log)?.size);
        if complaint.is_some() && before < copied.records.len() as u64 {
            // What comes after the damage is in no database: it must outlive the journal's replacement.
            self.put_aside(path)?;
        }
        match self.unite(&copied, foreign::Rule::TakeWhatHolds) {
            Ok(union) if union.added > 0 => {
                Ok(Some(Notice::RecordsRecovered { log, records: union.added, complaint }))
            }
            Ok(_) => Ok(None),
            Err(StoreError::Fork { log, .. }) => {
                let to = self.put_aside(path)?;
                self.rewrite_journal(&copied.log);
                Ok(Some(Notice::JournalDiffers { log, to }))
            }
            Err(error) => Err(error),
        }
    }

    /// Renames a journal that must not be lost when a new one is written in its place.
    fn put_aside(&self, path: &Path) -> Result<PathBuf, StoreError> {
        let free =
            (1_u32..).map(|number| path.with_extension(format!("differs-{number}"))).find(|to| !to.exists());
        let to = free.unwrap_or_else(|| path.with_extension("differs"));
        self.disk.rename(path, &to).map_err(|error| StoreError::file("rename", path, error))?;
        Ok(to)
    }

    pub(crate) fn rewrite_journal(&self, log: &LogId) {
        let connection = self.database();
        let temporary = self.folder.temporary();
        let written = self.journal.write_anew(self.disk.as_ref(), &temporary, &connection, log);
        self.journal.note(log, written);
    }
}

/// Every journal in the folder, sorted.
pub(crate) fn journals(folder: &Path) -> Result<Vec<PathBuf>, StoreError> {
    let mut found = Vec::new();
    for job in listed(folder)?.into_iter().filter(|path| path.is_dir()) {
        found.extend(listed(&job)?.into_iter().filter(|path| path.extension().is_some_and(|e| e == "jsonl")));
    }
    found.sort();
    Ok(found)
}

/// Whether the journal's last line is the log's newest record, or a checkpoint over all of it.
fn agrees(path: &Path, state: &LogState, signed: bool) -> bool {
    let Some(Ok(line)) = last_line(path).map(|text| Line::parse(&text)) else { return false };
    match line {
        Line::Record(record) => !signed && tree::leaf(&record.bytes) == state.last,
        Line::Checkpoint(signed) => signed
            .checkpoint()
            .is_ok_and(|checkpoint| checkpoint.size == state.size && checkpoint.root == state.root),
        Line::Heading(_) | Line::Forgotten(_) => false,
    }
}

/// The last line, if it is whole. Reads backwards, so that a long log costs no more than a short one.
fn last_line(path: &Path) -> Option<String> {
    let mut file = File::open(path).ok()?;
    let length = file.seek(SeekFrom::End(0)).ok()?;
    let mut part = 4096_u64;
    loop {
        let start = length.saturating_sub(part);
        file.seek(SeekFrom::Start(start)).ok()?;
        let mut bytes = Vec::new();
        Read::by_ref(&mut file).take(part).read_to_end(&mut bytes).ok()?;
        let text = bytes.strip_suffix(b"\n")?;
        if let Some(before) = text.iter().rposition(|byte| *byte == b'\n') {
            return String::from_utf8(text.get(before.saturating_add(1)..)?.to_vec()).ok();
        }
        if start == 0 {
            return None;
        }
        part = part.saturating_mul(4);
    }
}
