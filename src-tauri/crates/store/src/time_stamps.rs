use evidence::LogId;
use rusqlite::{Connection, named_params};

use crate::log::{LogState, log_id};
use crate::{Store, StoreError};

/// A checkpoint that still wants a time-stamp from one authority. Times are milliseconds since 1970, UTC.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TimeStampWaiting {
    /// The log whose checkpoint it is.
    pub log: LogId,
    /// How many records the checkpoint covers.
    pub size: u64,
    /// Address of the authority.
    pub authority: String,
    /// How often it was tried in vain.
    pub attempts: u32,
    /// Not to be tried before this.
    pub next_try: i64,
    /// Why the last try failed; empty before the first.
    pub last_error: String,
}

impl Store {
    /// Queues a kept checkpoint for a time-stamp by an authority; one that waits already stays as it is.
    ///
    /// # Errors
    /// [`StoreError::Misfit`] when no checkpoint of that size is kept; those of the database.
    pub fn timestamp_queue_put(
        &self,
        log: &LogId,
        size: u64,
        authority: &str,
        next_try: i64,
    ) -> Result<(), StoreError> {
        self.transact(|transaction| {
            let row = log_row(transaction, log)?;
            let kept = "SELECT count(*) FROM checkpoints WHERE log = ? AND size = ?";
            let kept: u64 = transaction.query_row(kept, (row, size), |row| row.get(0))?;
            if kept == 0 {
                return Err(misfit("no checkpoint of this size is kept"));
            }
            let put = include_str!("sql/time_stamp_put.sql");
            transaction.prepare_cached(put)?.execute(
                named_params! { ":log": row, ":size": size, ":authority": authority, ":next_try": next_try },
            )?;
            Ok(())
        })
    }

    /// What may be tried at `now`, the longest waiting first.
    ///
    /// A next try further off than `horizon` counts as due: the clock was set back since.
    ///
    /// # Errors
    /// Those of the database.
    pub fn timestamp_queue_due(&self, now: i64, horizon: i64) -> Result<Vec<TimeStampWaiting>, StoreError> {
        let due = |waiting: &TimeStampWaiting| {
            waiting.next_try <= now || waiting.next_try > now.saturating_add(horizon)
        };
        Ok(self.timestamp_queue()?.into_iter().filter(due).collect())
    }

    /// Everything that waits, by the time of its next try.
    ///
    /// # Errors
    /// Those of the database.
    pub fn timestamp_queue(&self) -> Result<Vec<TimeStampWaiting>, StoreError> {
        let connection = self.database();
        let mut statement = connection.prepare_cached(include_str!("sql/time_stamps_waiting.sql"))?;
        let waiting = statement.query_map([], |row| {
            let (log, size, authority) = (log_id(row, 0)?, row.get(3)?, row.get(4)?);
            let (attempts, next_try, last_error) = (row.get(5)?, row.get(6)?, row.get(7)?);
            Ok(TimeStampWaiting { log, size, authority, attempts, next_try, last_error })
        })?;
        Ok(waiting.collect::<Result<_, _>>()?)
    }

    /// Notes a failed try: one more attempt, why, and when to try again.
    ///
    /// # Errors
    /// Those of the database.
    pub fn timestamp_queue_failed(
        &self,
        waiting: &TimeStampWaiting,
        error: &str,
        next_try: i64,
    ) -> Result<(), StoreError> {
        self.note_try(include_str!("sql/time_stamp_failed.sql"), waiting, error, next_try)
    }

    /// Puts off one that was not tried, because its authority had just failed to answer another: no attempt is counted.
    ///
    /// # Errors
    /// Those of the database.
    pub fn timestamp_queue_postponed(
        &self,
        waiting: &TimeStampWaiting,
        error: &str,
        next_try: i64,
    ) -> Result<(), StoreError> {
        self.note_try(include_str!("sql/time_stamp_postponed.sql"), waiting, error, next_try)
    }

    fn note_try(
        &self,
        sql: &str,
        waiting: &TimeStampWaiting,
        error: &str,
        next_try: i64,
    ) -> Result<(), StoreError> {
        let connection = self.database();
        let log = log_row(&connection, &waiting.log)?;
        connection.prepare_cached(sql)?.execute(named_params! {
            ":log": log, ":size": waiting.size, ":authority": waiting.authority, ":error": error,
            ":next_try": next_try,
        })?;
        Ok(())
    }

    /// Takes one out of the queue, tried or given up; one that isn't there is fine. A token that became a record goes
    /// with [`crate::AppendRequest::settles_time_stamp`] instead, so that no crash can ask for it twice.
    ///
    /// # Errors
    /// Those of the database.
    pub fn timestamp_queue_settle(&self, waiting: &TimeStampWaiting) -> Result<(), StoreError> {
        settle(&self.database(), waiting)
    }
}

pub(crate) fn settle(connection: &Connection, waiting: &TimeStampWaiting) -> Result<(), StoreError> {
    let log = log_row(connection, &waiting.log)?;
    let drop = "DELETE FROM time_stamp_queue WHERE log = ? AND size = ? AND authority = ?";
    connection.prepare_cached(drop)?.execute((log, waiting.size, &waiting.authority))?;
    Ok(())
}

fn log_row(connection: &Connection, log: &LogId) -> Result<i64, StoreError> {
    let state = LogState::find(connection, log)?;
    state.map(|state| state.log).ok_or_else(|| misfit("the log has no records"))
}

fn misfit(why: &str) -> StoreError {
    StoreError::Misfit { why: why.to_owned() }
}
