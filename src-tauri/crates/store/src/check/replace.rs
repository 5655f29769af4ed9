use rusqlite::{OptionalExtension, Transaction};

use crate::foreign::{Rule, Uniting, chained};
use crate::log::LogState;
use crate::{LogCopy, Store, StoreError};

impl Store {
    /// Puts a believed copy in the place of a log's rows, in one transaction. The log keeps its number, and checkpoints
    /// that wait for a time-stamp go on waiting where the copy has them.
    pub(crate) fn replace_rows(&self, copy: &LogCopy) -> Result<(), StoreError> {
        let records = chained(copy)?;
        self.transact(|transaction| {
            transaction.pragma_update(None, "defer_foreign_keys", true)?;
            let Some(state) = LogState::find(transaction, &copy.log)? else { return Ok(()) };
            let places = places(transaction, state.log)?;
            clear(transaction, state.log)?;
            let mut work = Uniting::begin(self, transaction, copy, Rule::TakeWhatHolds)?;
            copy.records.iter().zip(&records).try_for_each(|(copied, record)| work.record(copied, record))?;
            copy.checkpoints.iter().try_for_each(|signed| work.checkpoint(signed))?;
            work.finish()?;
            renumber(transaction, &copy.log, state.log, &places)
        })
    }
}

/// The row number of each record, by sequence: the order in which this device learnt of them, over all logs of a job.
fn places(transaction: &Transaction<'_>, log: i64) -> Result<Vec<(u64, i64)>, StoreError> {
    let find = "SELECT sequence, record FROM records WHERE log = ?";
    let mut statement = transaction.prepare_cached(find)?;
    let places = statement.query_map([log], |row| Ok((row.get(0)?, row.get(1)?)))?;
    Ok(places.collect::<Result<_, _>>()?)
}

/// Takes a log's rows out. Whoever calls has them elsewhere.
fn clear(transaction: &Transaction<'_>, log: i64) -> Result<(), StoreError> {
    for table in ["disclosures", "photos"] {
        let delete =
            format!("DELETE FROM {table} WHERE record IN (SELECT record FROM records WHERE log = ?)");
        transaction.execute(&delete, [log])?;
    }
    for table in ["records", "signatures", "checkpoints", "leaves", "logs"] {
        transaction.execute(&format!("DELETE FROM {table} WHERE log = ?"), [log])?;
    }
    Ok(())
}

/// The new rows take the old log's number, and rows elsewhere that point at what is gone are brought up to date.
fn renumber(
    transaction: &Transaction<'_>,
    log: &evidence::LogId,
    number: i64,
    places: &[(u64, i64)],
) -> Result<(), StoreError> {
    let find = "SELECT log FROM logs WHERE shop = ? AND job = ? AND device = ?";
    let new: Option<i64> =
        transaction.query_row(find, (&log.shop, &log.job, &log.device), |row| row.get(0)).optional()?;
    if let Some(new) = new {
        for table in ["records", "signatures", "checkpoints", "leaves", "logs"] {
            transaction.execute(&format!("UPDATE {table} SET log = ? WHERE log = ?"), (number, new))?;
        }
    }
    let find = "SELECT record FROM records WHERE log = ? AND sequence = ?";
    for (sequence, old) in places {
        let now: Option<i64> =
            transaction.prepare_cached(find)?.query_row((number, sequence), |row| row.get(0)).optional()?;
        for table in ["disclosures", "photos", "records"] {
            let put = format!("UPDATE {table} SET record = ? WHERE record = ?");
            transaction.prepare_cached(&put)?.execute((old, now))?;
        }
    }
    settle_pointers(transaction, &log.job)
}

/// A list row must point at a record that is there; a waiting time-stamp at a checkpoint that is.
pub(super) fn settle_pointers(transaction: &Transaction<'_>, job: &str) -> Result<(), StoreError> {
    transaction.execute_batch(
        "DELETE FROM time_stamp_queue WHERE NOT EXISTS
           (SELECT 1 FROM checkpoints AS kept WHERE kept.log = time_stamp_queue.log AND kept.size = time_stamp_queue.size)",
    )?;
    let newest = "SELECT max(record) FROM records JOIN logs USING (log) WHERE job = ?";
    let newest: Option<i64> = transaction.query_row(newest, [job], |row| row.get(0))?;
    match newest {
        Some(record) => {
            crate::jobs::touch(transaction, record, job)?;
            crate::jobs::mark_to_fold(transaction, job)
        }
        None => {
            transaction.execute("DELETE FROM jobs WHERE job = ?", [job])?;
            transaction.execute("DELETE FROM jobs_to_fold WHERE job = ?", [job])?;
            Ok(())
        }
    }
}
