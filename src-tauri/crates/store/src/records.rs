use evidence::{Digest, Disclosure, LogId, tree};
use rusqlite::named_params;

use crate::log::{LogState, digest};
use crate::{Store, StoreError};

/// A sealed record as it was kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StoredRecord {
    /// The device whose log it stands in.
    pub device: String,
    /// Its place in that log, from 0.
    pub sequence: u64,
    /// The sealed bytes.
    pub bytes: Vec<u8>,
    /// SHA-256 of a zero byte and the bytes.
    pub leaf: Digest,
}

impl Store {
    /// Every record of a job in the order this device learnt of them; within one log that is by sequence.
    ///
    /// # Errors
    /// Those of the database.
    pub fn job_records(&self, job: &str) -> Result<Vec<StoredRecord>, StoreError> {
        let connection = self.database();
        let mut statement = connection.prepare_cached(include_str!("sql/records_of_job.sql"))?;
        let records = statement.query_map(named_params! { ":job": job }, |row| {
            let (device, sequence, bytes) = (row.get(0)?, row.get(1)?, row.get(2)?);
            Ok(StoredRecord { device, sequence, bytes, leaf: digest(row, 3)? })
        })?;
        Ok(records.collect::<Result<_, _>>()?)
    }

    /// At most `limit` records of one log from sequence `from` on, in order, each hashed again; fewer only at the log's
    /// end. For logs too long to be held.
    ///
    /// # Errors
    /// [`StoreError::LogDamaged`] for a record that no longer has its bytes; those of the database.
    pub fn records_of_log(
        &self,
        log: &LogId,
        from: u64,
        limit: u64,
    ) -> Result<Vec<StoredRecord>, StoreError> {
        let connection = self.database();
        let Some(state) = LogState::find(&connection, log)? else { return Ok(Vec::new()) };
        let mut statement = connection.prepare_cached(include_str!("sql/page_of_log.sql"))?;
        let asked = named_params! { ":log": state.log, ":from": from, ":limit": limit };
        let page = statement.query_map(asked, |row| {
            let (device, sequence, bytes) = (log.device.clone(), row.get(0)?, row.get(1)?);
            Ok(StoredRecord { device, sequence, bytes, leaf: digest(row, 2)? })
        })?;
        let page: Vec<StoredRecord> = page.collect::<Result<_, _>>()?;
        if page.iter().any(|record| tree::leaf(&record.bytes) != record.leaf) {
            return Err(StoreError::LogDamaged { log: log.origin() });
        }
        Ok(page)
    }

    /// Every disclosure of a job, by record in the same order.
    ///
    /// # Errors
    /// Those of the database.
    pub fn disclosures(&self, job: &str) -> Result<Vec<Disclosure>, StoreError> {
        let connection = self.database();
        let mut statement = connection.prepare_cached(include_str!("sql/disclosures_of_job.sql"))?;
        let encoded = statement.query_map(named_params! { ":job": job }, |row| row.get::<_, String>(0))?;
        encoded.map(|text| Ok(Disclosure::parse(&text?)?)).collect()
    }
}
