use std::collections::BTreeMap;

use evidence::{Digest, Disclosure, LogId, SignedCheckpoint, tree};
use rusqlite::Connection;

use crate::StoreError;
use crate::check::{encoded_values, forgotten_of};
use crate::journal::line::{checkpoint_line, forgotten_line, heading_line, record_line};
use crate::log::{LogState, digest};

/// A log as lines, each checkpoint after the last record it covers.
///
/// # Errors
/// [`StoreError::LogDamaged`] where a record's bytes don't hash to its leaf: nothing is written from such. Those of the
/// database.
pub(crate) fn text_of(connection: &Connection, log: &LogId) -> Result<String, StoreError> {
    let (text, left_out) = lines_of(connection, log)?;
    if left_out == 0 { Ok(text) } else { Err(StoreError::LogDamaged { log: log.origin() }) }
}

/// The same without the records whose bytes don't hash, and how many those are: for an export, which must bring out what
/// there is, and for forgetting, which must go through.
pub(crate) fn lines_of(connection: &Connection, log: &LogId) -> Result<(String, u64), StoreError> {
    let mut text = heading_line(log);
    let forgotten: Vec<Digest> = forgotten_of(connection, &log.job)?.into_iter().collect();
    if !forgotten.is_empty() {
        text.push_str(&forgotten_line(&forgotten)?);
    }
    let Some(state) = LogState::find(connection, log)? else { return Ok((text, 0)) };
    let mut checkpoints = checkpoints_of(connection, state.log)?;
    let mut statement = connection.prepare_cached(include_str!("../sql/records_of_log.sql"))?;
    let mut rows = statement.query([state.log])?;
    let mut written = 0_u64;
    while let Some(row) = rows.next()? {
        let (record, sequence, bytes): (i64, u64, Vec<u8>) = (row.get(0)?, row.get(1)?, row.get(2)?);
        if tree::leaf(&bytes) != digest(row, 3)? {
            continue;
        }
        written = written.saturating_add(1);
        let signature: Option<[u8; 64]> = row.get(4)?;
        text.push_str(&record_line(&bytes, &values_of(connection, record, &bytes)?, signature.as_ref())?);
        if let Some(signed) = checkpoints.remove(&sequence.saturating_add(1)) {
            text.push_str(&checkpoint_line(&signed)?);
        }
    }
    Ok((text, state.size.saturating_sub(written)))
}

/// Those values of a record whose digests stand in its bytes.
fn values_of(connection: &Connection, record: i64, bytes: &[u8]) -> Result<Vec<Disclosure>, StoreError> {
    let text = String::from_utf8_lossy(bytes);
    let own = |encoded: &String| text.contains(&Digest::of(encoded.as_bytes()).to_string());
    let encoded = encoded_values(connection, record)?.into_iter().filter(own);
    encoded.map(|text| Ok(Disclosure::parse(&text)?)).collect()
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
