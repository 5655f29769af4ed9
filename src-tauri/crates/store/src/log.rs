use std::collections::BTreeMap;

use evidence::{Digest, Frontier, LogHead, LogId};
use rusqlite::{Connection, OptionalExtension, Row, named_params};

use crate::{Store, StoreError};

impl Store {
    /// How long the log is and its newest leaf; a log not begun has size 0.
    ///
    /// # Errors
    /// Those of the database.
    pub fn head(&self, log: &LogId) -> Result<LogHead, StoreError> {
        let state = LogState::find(&self.database(), log)?;
        Ok(state.map(|state| state.head()).unwrap_or_default())
    }

    /// Newest leaf of every other log of the same job, by device.
    ///
    /// # Errors
    /// Those of the database.
    pub fn other_heads(&self, log: &LogId) -> Result<BTreeMap<String, Digest>, StoreError> {
        let connection = self.database();
        let mut statement = connection.prepare_cached(
            "SELECT device, last_leaf FROM logs WHERE job = ? AND shop = ? AND device <> ?",
        )?;
        let heads = statement
            .query_map([&log.job, &log.shop, &log.device], |row| Ok((row.get(0)?, digest(row, 1)?)))?
            .collect::<Result<_, _>>()?;
        Ok(heads)
    }

    /// Every log of a job, in the order this device learnt of them.
    ///
    /// # Errors
    /// Those of the database.
    pub fn logs(&self, job: &str) -> Result<Vec<LogId>, StoreError> {
        let connection = self.database();
        let mut statement =
            connection.prepare_cached("SELECT shop, job, device FROM logs WHERE job = ? ORDER BY log")?;
        let logs = statement.query_map([job], |row| log_id(row, 0))?.collect::<Result<_, _>>()?;
        Ok(logs)
    }

    /// Leaf hashes of one log in order; empty when it isn't begun.
    ///
    /// # Errors
    /// Those of the database.
    pub fn leaves(&self, log: &LogId) -> Result<Vec<Digest>, StoreError> {
        let connection = self.database();
        match LogState::find(&connection, log)? {
            Some(state) => leaves_of(&connection, state.log),
            None => Ok(Vec::new()),
        }
    }

    /// Root of the log's tree as stored; `None` when it isn't begun.
    ///
    /// # Errors
    /// Those of the database.
    pub fn root(&self, log: &LogId) -> Result<Option<Digest>, StoreError> {
        Ok(LogState::find(&self.database(), log)?.map(|state| state.root))
    }
}

/// One row of `logs`: the tree after its newest record.
pub(crate) struct LogState {
    pub(crate) log: i64,
    pub(crate) size: u64,
    pub(crate) last: Digest,
    pub(crate) root: Digest,
    frontier: Vec<u8>,
}

impl LogState {
    pub(crate) fn find(connection: &Connection, log: &LogId) -> Result<Option<Self>, StoreError> {
        let mut statement = connection.prepare_cached(include_str!("sql/log_state.sql"))?;
        let names = named_params! { ":shop": log.shop, ":job": log.job, ":device": log.device };
        Ok(statement.query_row(names, Self::read).optional()?)
    }

    /// Reads `log, size, last_leaf, root, frontier` from the row's first columns.
    pub(crate) fn read(row: &Row<'_>) -> rusqlite::Result<Self> {
        let (log, size, frontier) = (row.get(0)?, row.get(1)?, row.get(4)?);
        Ok(Self { log, size, last: digest(row, 2)?, root: digest(row, 3)?, frontier })
    }

    pub(crate) fn head(&self) -> LogHead {
        LogHead { size: self.size, last: Some(self.last) }
    }

    pub(crate) fn frontier(&self) -> Option<Frontier> {
        let (peaks, rest) = self.frontier.as_chunks::<32>();
        let peaks = peaks.iter().map(|bytes| Digest(*bytes)).collect();
        rest.is_empty().then(|| Frontier::from_parts(self.size, peaks)).flatten()
    }
}

/// The frontier as its column holds it: 32 bytes per complete subtree, largest first.
pub(crate) fn frontier_bytes(frontier: &Frontier) -> Vec<u8> {
    frontier.peaks().iter().flat_map(|peak| peak.0).collect()
}

/// Reads `shop, job, device` beginning with the given column.
pub(crate) fn log_id(row: &Row<'_>, first: usize) -> rusqlite::Result<LogId> {
    Ok(LogId { shop: row.get(first)?, job: row.get(first + 1)?, device: row.get(first + 2)? })
}

/// Reads a 32-byte column.
pub(crate) fn digest(row: &Row<'_>, column: usize) -> rusqlite::Result<Digest> {
    row.get(column).map(Digest)
}

/// Leaf hashes of one log in order.
pub(crate) fn leaves_of(connection: &Connection, log: i64) -> Result<Vec<Digest>, StoreError> {
    let mut statement =
        connection.prepare_cached("SELECT leaf FROM leaves WHERE log = ? ORDER BY sequence")?;
    let leaves = statement.query_map([log], |row| digest(row, 0))?;
    Ok(leaves.collect::<Result<_, _>>()?)
}

/// Every log with its state, in the order this device learnt of them.
pub(crate) fn every_state(connection: &Connection) -> Result<Vec<(LogId, LogState)>, StoreError> {
    let all = "SELECT log, size, last_leaf, root, frontier, shop, job, device FROM logs ORDER BY log";
    let mut statement = connection.prepare(all)?;
    let rows = statement.query_map([], |row| Ok((log_id(row, 5)?, LogState::read(row)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}
