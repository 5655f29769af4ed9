use std::collections::BTreeMap;

use evidence::{Digest, Disclosure, LogId, tree};
use rusqlite::named_params;

use crate::check::Survey;
use crate::log::{LogState, digest};
use crate::{Store, StoreError};

/// Whether a record counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Its bytes hash to its leaf, and a known key of its device signed for it.
    Good,
    /// Its bytes hash to its leaf, but nobody known signed for it: it is from before records were signed one by one, or its
    /// device isn't known. It counts nowhere until its owner takes it in.
    NotVouched,
    /// Its bytes aren't those that were kept, and no other copy of them was found.
    Damaged,
}

/// A sealed record as it was kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StoredRecord {
    /// The device whose log it stands in.
    pub device: String,
    /// Its place in that log, from 0.
    pub sequence: u64,
    /// The sealed bytes.
    pub bytes: Vec<u8>,
    /// SHA-256 of a zero byte and the bytes that were kept.
    pub leaf: Digest,
    /// Whether it counts.
    pub standing: Standing,
}

impl Store {
    /// Every record of a job in the order this device learnt of them; within one log that is by sequence.
    ///
    /// Every byte is hashed, and every log held against its newest signature, on each call. What doesn't hold is mended
    /// from the journal where that is better; what was found is told by [`Store::take_findings`].
    ///
    /// # Errors
    /// Those of the database and the files.
    pub fn job_records(&self, job: &str) -> Result<Vec<StoredRecord>, StoreError> {
        let surveys: BTreeMap<String, Survey> = self
            .noted(self.require_checked(job))?
            .into_iter()
            .map(|(log, survey)| (log.device, survey))
            .collect();
        let connection = self.database();
        let mut statement = connection.prepare_cached(include_str!("sql/records_of_job.sql"))?;
        let records = statement.query_map(named_params! { ":job": job }, |row| {
            let (device, sequence, bytes): (String, u64, Vec<u8>) = (row.get(0)?, row.get(1)?, row.get(2)?);
            let leaf = digest(row, 3)?;
            let vouched = surveys.get(&device).map_or(0, |survey| survey.vouched);
            let standing = if tree::leaf(&bytes) != leaf {
                Standing::Damaged
            } else if sequence < vouched {
                Standing::Good
            } else {
                Standing::NotVouched
            };
            Ok(StoredRecord { device, sequence, bytes, leaf, standing })
        })?;
        Ok(records.collect::<Result<_, _>>()?)
    }

    /// The bytes of at most `limit` records of one log from sequence `from` on, in order, each hashed again; fewer only at
    /// the log's end. For logs too long to be held.
    ///
    /// # Errors
    /// [`StoreError::LogDamaged`] for a record that no longer has its bytes; those of the database.
    pub fn records_of_log(&self, log: &LogId, from: u64, limit: u64) -> Result<Vec<Vec<u8>>, StoreError> {
        let connection = self.database();
        let Some(state) = LogState::find(&connection, log)? else { return Ok(Vec::new()) };
        let mut statement = connection.prepare_cached(include_str!("sql/page_of_log.sql"))?;
        let asked = named_params! { ":log": state.log, ":from": from, ":limit": limit };
        let page = statement.query_map(asked, |row| Ok((row.get::<_, Vec<u8>>(1)?, digest(row, 2)?)))?;
        let page: Vec<(Vec<u8>, Digest)> = page.collect::<Result<_, _>>()?;
        if page.iter().any(|(bytes, leaf)| tree::leaf(bytes) != *leaf) {
            return Err(StoreError::LogDamaged { log: log.origin() });
        }
        Ok(page.into_iter().map(|(bytes, _)| bytes).collect())
    }

    /// Every disclosure of a job, by record in the same order. What isn't a record's own, because it was changed on disk,
    /// is left out; read [`Store::job_records`] first, which mends such.
    ///
    /// # Errors
    /// Those of the database.
    pub fn disclosures(&self, job: &str) -> Result<Vec<Disclosure>, StoreError> {
        let connection = self.database();
        let mut statement = connection.prepare_cached(include_str!("sql/disclosures_of_job.sql"))?;
        let encoded = statement.query_map(named_params! { ":job": job }, |row| row.get::<_, String>(0))?;
        let read = encoded.map(|text| Ok(Disclosure::parse(&text?).ok()));
        Ok(read.collect::<Result<Vec<_>, StoreError>>()?.into_iter().flatten().collect())
    }
}
