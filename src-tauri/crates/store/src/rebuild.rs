//! After a damaged database was set aside: what of it can still be read goes into the new one, once it is proven.
//!
//! The journals come first and usually hold everything that counts. What they lack is looked up in a copy of the
//! damaged file, row by row, so that one damaged page costs only what stood on it.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use evidence::{Digest, Disclosure, LogId, Record, SignedCheckpoint, tree};
use rusqlite::{Connection, OptionalExtension, Row};

use crate::heads::Heads;
use crate::log::log_id;
use crate::{CopiedRecord, LogCopy, Notice, Store, StoreError, foreign};

/// Row numbers without a row, in a file that no longer says how many there are, after which the search ends.
const MOST_EMPTY: i64 = 10_000;

/// What became of one log after its database was lost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RebuiltLog {
    /// Origin of the log.
    pub log: String,
    /// How many records it has again, from the first on without a gap.
    pub records: u64,
    /// How many more it had, as far as the damaged file tells. Numbers from `records` on are lost.
    pub lost: u64,
}

/// What came back after a database was lost.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Rebuilt {
    /// Every log that is known of.
    pub logs: Vec<RebuiltLog>,
    /// Settings that are back.
    pub settings: u64,
    /// Drafts that are back.
    pub drafts: u64,
}

impl Store {
    /// Takes over what a damaged database still gives. It is read from a copy: the file itself stays as it was found.
    pub(crate) fn rebuild_from(&self, damaged: &Path) -> Result<Rebuilt, StoreError> {
        let mut rebuilt = Rebuilt { settings: self.take_mirrored_settings()?, ..Rebuilt::default() };
        let copy = self.folder.temporary().with_extension("sqlite");
        let mut sizes = BTreeMap::new();
        if let Some(file) = Salvage::open(damaged, &copy) {
            rebuilt.settings = rebuilt.settings.saturating_add(self.take_settings(&file)?);
            rebuilt.drafts = self.take_drafts(&file)?;
            sizes = self.take_logs(&file)?;
        }
        for suffix in ["", "-wal", "-shm"] {
            let mut name = copy.as_os_str().to_owned();
            name.push(suffix);
            let _ = fs::remove_file(name);
        }
        for log in self.every_log()? {
            sizes.entry(log).or_insert(0);
        }
        for (log, size) in sizes {
            let records = self.head(&log)?.size;
            let spoken_of = size.max(self.spoken_of(&log));
            let lost = spoken_of.saturating_sub(records);
            rebuilt.logs.push(RebuiltLog { log: log.origin(), records, lost });
        }
        Ok(rebuilt)
    }

    /// How many records of a log its journal left behind, with those that came back.
    fn spoken_of(&self, log: &LogId) -> u64 {
        let behind = |notice: &Notice| match notice {
            Notice::RecordsRecovered { log: told, records, left_behind, .. } if *told == log.origin() => {
                records.saturating_add(*left_behind)
            }
            _ => 0,
        };
        self.notices().iter().map(behind).max().unwrap_or(0)
    }

    fn take_settings(&self, file: &Salvage) -> Result<u64, StoreError> {
        let (known, mut taken) = (self.settings()?, 0_u64);
        for (key, json) in file.pairs("SELECT key, json FROM settings") {
            let value = serde_json::from_str(&json).ok();
            if let Some(value) = value.filter(|_| !known.contains_key(&key)) {
                self.set_setting(&key, &value)?;
                taken = taken.saturating_add(1);
            }
        }
        Ok(taken)
    }

    fn take_drafts(&self, file: &Salvage) -> Result<u64, StoreError> {
        let mut taken = 0_u64;
        for (place, json) in file.pairs("SELECT json_array(job, form), json FROM drafts") {
            let place: Result<(String, String), _> = serde_json::from_str(&place);
            if let (Ok((job, form)), Ok(value)) = (place, serde_json::from_str(&json)) {
                self.keep_draft(&job, &form, &value)?;
                taken = taken.saturating_add(1);
            }
        }
        for (_, json) in file.pairs("SELECT '', json FROM intent") {
            if let Ok(value) = serde_json::from_str(&json) {
                self.keep_intent(&value)?;
            }
        }
        // Its keys aren't taken: a row makes nobody known, and the signed list lies outside the database.
        Ok(taken)
    }

    /// Unites every log that can be read with what the journals gave; returns how long each was said to be.
    fn take_logs(&self, file: &Salvage) -> Result<BTreeMap<LogId, u64>, StoreError> {
        let logs = file.logs();
        let mut copies: BTreeMap<i64, BTreeMap<u64, CopiedRecord>> = BTreeMap::new();
        for (log, sequence, record) in file.records() {
            copies.entry(log).or_default().insert(sequence, record);
        }
        let mut sizes = BTreeMap::new();
        for (row, (log, size)) in logs {
            let records = copies.remove(&row).unwrap_or_default();
            let seen = records.keys().next_back().map_or(0, |last| last.saturating_add(1));
            sizes.insert(log.clone(), size.max(seen));
            let records = records.into_values().collect();
            let copy = LogCopy { records, checkpoints: file.checkpoints(row), ..LogCopy::new(log) };
            self.take_log(copy)?;
        }
        Ok(sizes)
    }

    fn take_log(&self, copy: LogCopy) -> Result<(), StoreError> {
        let (copy, _) = foreign::sound_part(copy);
        let copy = self.signed_part(copy)?;
        match self.unite(&copy, foreign::Rule::TakeWhatHolds) {
            // The journal has other records, or none before these: what it gave stays.
            Ok(_) | Err(StoreError::Fork { .. } | StoreError::Gap { .. }) => Ok(()),
            Err(error) => Err(error),
        }
    }
}

impl Store {
    /// Of a log whose records were signed one by one, what is signed for; an older one whole, its unsigned end to be kept
    /// apart.
    fn signed_part(&self, copy: LogCopy) -> Result<LogCopy, StoreError> {
        let begun = copy.records.first().and_then(|first| Record::parse(&first.bytes).ok());
        let first = begun.map_or(0, |record| record.sequence);
        let heads = Heads::of_copy(&copy, first);
        if first > 0 || !heads.one_by_one {
            return Ok(copy);
        }
        let leaves: Vec<Digest> = copy.records.iter().map(|record| tree::leaf(&record.bytes)).collect();
        let keys = self.keys_for(&copy.log);
        Ok(copy.first(heads.vouched(&copy.log, &leaves, &keys)))
    }
}

/// A copy of a damaged database. Every read may fail; then there is that much less.
struct Salvage(Connection);

impl Salvage {
    fn open(damaged: &Path, copy: &Path) -> Option<Self> {
        fs::copy(damaged, copy).ok()?;
        let beside = |path: &Path| {
            let mut name = path.as_os_str().to_owned();
            name.push("-wal");
            name
        };
        let _ = fs::copy(beside(damaged), beside(copy));
        let connection = Connection::open(copy).ok()?;
        connection.pragma_update(None, "trusted_schema", false).ok()?;
        Some(Self(connection))
    }

    /// Two columns of every row up to the first that can't be read.
    fn pairs(&self, query: &str) -> Vec<(String, String)> {
        let Ok(mut statement) = self.0.prepare(query) else { return Vec::new() };
        let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)));
        rows.map(|rows| rows.map_while(Result::ok).collect()).unwrap_or_default()
    }

    fn logs(&self) -> BTreeMap<i64, (LogId, u64)> {
        let read = |row: &Row<'_>| Ok((log_id(row, 0)?, row.get(3)?));
        let one = |row: i64| {
            let find = "SELECT shop, job, device, size FROM logs WHERE log = ?";
            self.0.prepare_cached(find).ok()?.query_row([row], read).optional().ok()?
        };
        self.rows("SELECT max(log) FROM logs").filter_map(|row| Some((row, one(row)?))).collect()
    }

    fn records(&self) -> Vec<(i64, u64, CopiedRecord)> {
        let one = |row: i64| {
            let find = "SELECT log, bytes FROM records WHERE record = ?";
            let read = |row: &Row<'_>| Ok((row.get(0)?, row.get::<_, Vec<u8>>(1)?));
            let (log, bytes) = self.0.prepare_cached(find).ok()?.query_row([row], read).ok()?;
            let sequence = Record::parse(&bytes).ok()?.sequence;
            let signature = self.signature(log, sequence);
            Some((log, sequence, CopiedRecord { disclosures: self.disclosures(row), bytes, signature }))
        };
        self.rows("SELECT seq FROM sqlite_sequence WHERE name = 'records'").filter_map(one).collect()
    }

    fn signature(&self, log: i64, sequence: u64) -> Option<[u8; 64]> {
        let find = "SELECT signature FROM signatures WHERE log = ? AND sequence = ?";
        self.0.prepare_cached(find).ok()?.query_row((log, sequence), |row| row.get(0)).ok()
    }

    fn disclosures(&self, record: i64) -> Vec<Disclosure> {
        let find = "SELECT encoded FROM disclosures WHERE record = ? ORDER BY position";
        let Ok(mut statement) = self.0.prepare_cached(find) else { return Vec::new() };
        let rows = statement.query_map([record], |row| row.get::<_, String>(0));
        let rows = rows.map(|rows| rows.map_while(Result::ok).collect::<Vec<_>>()).unwrap_or_default();
        rows.iter().filter_map(|text| Disclosure::parse(text).ok()).collect()
    }

    fn checkpoints(&self, log: i64) -> Vec<SignedCheckpoint> {
        let find = "SELECT text, signature, note FROM checkpoints WHERE log = ? ORDER BY size";
        let Ok(mut statement) = self.0.prepare_cached(find) else { return Vec::new() };
        let read = |row: &Row<'_>| {
            Ok(SignedCheckpoint { text: row.get(0)?, signature: row.get(1)?, note: row.get(2)? })
        };
        let rows = statement.query_map([log], read);
        rows.map(|rows| rows.map_while(Result::ok).collect()).unwrap_or_default()
    }

    /// Every row number there may be. Where the file doesn't say how many, as many as could stand in its bytes.
    fn rows(&self, newest: &str) -> impl Iterator<Item = i64> {
        let newest = self.0.query_row(newest, [], |row| row.get::<_, Option<i64>>(0)).ok().flatten();
        1..=newest.unwrap_or(MOST_EMPTY)
    }
}
