use evidence::{Digest, Disclosure};
use rusqlite::named_params;

use crate::{Store, StoreError, log::digest};

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
