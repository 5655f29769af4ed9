//! Everything that is kept, read and hashed: before a backup at one go, in between in pieces that nobody notices.

use std::fs::File;
use std::path::PathBuf;

use evidence::packet::Progress;
use evidence::{Digest, LogId};
use rusqlite::OptionalExtension;
use serde::{Deserialize, Serialize};

use crate::backup::Watch;
use crate::check::Survey;
use crate::log::log_id;
use crate::originals::listed;
use crate::{Notice, Store, StoreError};

/// What a check came to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CheckReport {
    /// Logs read to their end.
    pub logs: u64,
    /// Records hashed.
    pub records: u64,
    /// Of those, how many no known key signed for.
    pub not_vouched: u64,
    /// Originals hashed.
    pub originals: u64,
    /// What didn't hold, and what became of it.
    pub found: Vec<Notice>,
}

/// How far the check in pieces has come. The caller keeps it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct CheckState {
    /// Number of the last log that was read.
    pub log: i64,
    /// Folder of originals that comes next, of 256; 256 when all were read.
    pub shard: u16,
    /// How many things didn't hold so far.
    pub found: u64,
}

impl CheckState {
    /// Whether everything was read.
    pub fn done(&self) -> bool {
        self.shard >= SHARDS && self.log == i64::MAX
    }
}

const SHARDS: u16 = 256;

impl Store {
    /// Reads every record, journal and original; what doesn't hold is mended where a copy holds, and told.
    ///
    /// # Errors
    /// [`StoreError::Cancelled`]; those of the database and the files.
    pub fn check(&self, watch: Watch<'_>) -> Result<CheckReport, StoreError> {
        self.check_file()?;
        let mut report = CheckReport::default();
        let logs = self.every_log()?;
        let files = self.original_files()?;
        let sizes = files.iter().filter_map(|path| std::fs::metadata(path).ok());
        let total = sizes.map(|data| data.len()).fold(logs.len() as u64, u64::saturating_add);
        let mut progress = Progress { done: 0, total };
        let mut step = |bytes: u64| {
            progress.done = progress.done.saturating_add(bytes);
            if watch(progress).is_break() { Err(StoreError::Cancelled) } else { Ok(()) }
        };
        for log in logs {
            report.log(self.check_log(&log)?);
            step(1)?;
        }
        let mut damaged = Vec::new();
        for path in files {
            damaged.extend(damaged_original(&path));
            report.originals = report.originals.saturating_add(1);
            step(std::fs::metadata(&path).map_or(0, |data| data.len()))?;
        }
        self.tell_lost(damaged, self.originals_missing()?);
        report.found = self.take_findings();
        Ok(report)
    }

    /// Goes on with the check where it stopped, with one log or one folder of originals. What was found is told by
    /// [`Store::take_findings`].
    ///
    /// # Errors
    /// Those of the database and the files.
    pub fn check_piece(&self, state: &mut CheckState) -> Result<(), StoreError> {
        if let Some((number, log)) = self.log_after(state.log)? {
            state.log = number;
            let before = self.findings_waiting();
            self.check_log(&log)?;
            let new = self.findings_waiting().saturating_sub(before);
            state.found = state.found.saturating_add(new as u64);
            return Ok(());
        }
        state.log = i64::MAX;
        if state.shard < SHARDS {
            let shard = self.folder.originals().join(format!("{:02x}", state.shard));
            let damaged: Vec<Digest> =
                listed(&shard).unwrap_or_default().iter().filter_map(|path| damaged_original(path)).collect();
            let named = self.originals_missing()?;
            let here = |missing: &Digest| u16::from(missing.0.first().copied().unwrap_or(0)) == state.shard;
            let missing: Vec<Digest> = named.into_iter().filter(here).collect();
            let found = damaged.len().saturating_add(missing.len()) as u64;
            state.found = state.found.saturating_add(found);
            self.tell_lost(damaged, missing);
            state.shard = state.shard.saturating_add(1);
        }
        Ok(())
    }

    /// Reads a log and its journal to their ends.
    fn check_log(&self, log: &LogId) -> Result<Option<Survey>, StoreError> {
        let notices = self.mend(log)?;
        self.tell(notices);
        let keys = self.keys_for(log);
        self.survey_of(log, &keys)
    }

    /// The newest logs, as many as are read in an instant: what was being written when the power went is among them.
    pub(crate) fn check_newest(&self) -> Result<(), StoreError> {
        let newest: Vec<LogId> = {
            let connection = self.database();
            let mut statement = connection.prepare(include_str!("../sql/logs_newest.sql"))?;
            let rows = statement.query_map([], |row| log_id(row, 0))?;
            rows.collect::<Result<_, _>>()?
        };
        let mut read = 0_u64;
        for log in newest {
            let survey = self.checked(&log)?;
            read = read.saturating_add(survey.map_or(0, |survey| survey.size()));
            if read >= MOST_READ_AT_START {
                break;
            }
        }
        Ok(())
    }

    /// SQLite's own check of the file, with every index.
    fn check_file(&self) -> Result<(), StoreError> {
        let connection = self.database();
        let said: String = connection.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0))?;
        self.noted(if said == "ok" { Ok(()) } else { Err(StoreError::Damaged { detail: said }) })
    }

    fn log_after(&self, number: i64) -> Result<Option<(i64, LogId)>, StoreError> {
        let next = "SELECT log, shop, job, device FROM logs WHERE log > ? ORDER BY log LIMIT 1";
        let connection = self.database();
        let mut statement = connection.prepare_cached(next)?;
        Ok(statement.query_row([number], |row| Ok((row.get(0)?, log_id(row, 1)?))).optional()?)
    }

    fn original_files(&self) -> Result<Vec<PathBuf>, StoreError> {
        let shards = listed(&self.folder.originals())?;
        let files = shards.iter().map(|shard| listed(shard)).collect::<Result<Vec<_>, _>>()?;
        Ok(files.concat())
    }

    fn tell_lost(&self, damaged: Vec<Digest>, missing: Vec<Digest>) {
        let some = !damaged.is_empty() || !missing.is_empty();
        self.tell(some.then_some(Notice::OriginalsLost { damaged, missing }));
    }
}

impl CheckReport {
    fn log(&mut self, survey: Option<Survey>) {
        let Some(survey) = survey else { return };
        self.logs = self.logs.saturating_add(1);
        self.records = self.records.saturating_add(survey.size());
        self.not_vouched = self.not_vouched.saturating_add(survey.size().saturating_sub(survey.vouched));
    }
}

/// The hash in a file's name, where its bytes have another.
fn damaged_original(path: &std::path::Path) -> Option<Digest> {
    let named: Digest = path.file_stem()?.to_str()?.parse().ok()?;
    if !std::fs::symlink_metadata(path).is_ok_and(|data| data.is_file()) {
        return Some(named);
    }
    let read = File::open(path).and_then(|mut file| Digest::of_reader(&mut file));
    match read {
        Ok((found, _)) if found == named => None,
        _ => Some(named),
    }
}

/// Records read at the start, at least, where there are so many.
const MOST_READ_AT_START: u64 = 500;
