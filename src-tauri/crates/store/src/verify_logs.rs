use evidence::{Digest, LogId, Record, tree};

use crate::log::{LogState, every_state, leaves_of};
use crate::{Store, StoreError};

/// A log whose every record was read and hashed again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VerifiedLog {
    /// Whose log.
    pub log: LogId,
    /// How many records.
    pub size: u64,
    /// Root over all of them.
    pub root: Digest,
}

impl Store {
    /// Reads every record of every log: its hash, its link to the one before, the root, and every checkpoint's root.
    ///
    /// # Errors
    /// [`StoreError::LogDamaged`] for the first log that doesn't hold; those of the database.
    pub fn verify_logs(&self) -> Result<Vec<VerifiedLog>, StoreError> {
        let connection = self.database();
        every_state(&connection)?.into_iter().map(|(log, state)| verified(&connection, &state, log)).collect()
    }
}

fn verified(
    connection: &rusqlite::Connection,
    state: &LogState,
    log: LogId,
) -> Result<VerifiedLog, StoreError> {
    let damaged = || StoreError::LogDamaged { log: log.origin() };
    let mut statement = connection.prepare_cached(include_str!("sql/records_of_log.sql"))?;
    let mut rows = statement.query([state.log])?;
    let mut leaves: Vec<Digest> = Vec::new();
    while let Some(row) = rows.next()? {
        let bytes: Vec<u8> = row.get(2)?;
        let record = Record::parse(&bytes).map_err(|_| damaged())?;
        let follows = record.sequence == leaves.len() as u64 && record.previous == leaves.last().copied();
        let own = record.job == log.job && record.device == log.device;
        if !follows || !own {
            return Err(damaged());
        }
        leaves.push(tree::leaf(&bytes));
    }
    let root = tree::root(&leaves);
    let same = leaves == leaves_of(connection, state.log)? && root == state.root;
    if !same || !checkpoints_hold(connection, state.log, &leaves)? {
        return Err(damaged());
    }
    Ok(VerifiedLog { size: leaves.len() as u64, root, log })
}

fn checkpoints_hold(
    connection: &rusqlite::Connection,
    log: i64,
    leaves: &[Digest],
) -> Result<bool, StoreError> {
    let mut statement = connection.prepare_cached("SELECT text FROM checkpoints WHERE log = ?")?;
    let texts = statement.query_map([log], |row| row.get::<_, String>(0))?;
    for text in texts {
        let checkpoint = evidence::Checkpoint::parse(&text?)?;
        let size = usize::try_from(checkpoint.size).unwrap_or(usize::MAX);
        if leaves.get(..size).map(tree::root) != Some(checkpoint.root) {
            return Ok(false);
        }
    }
    Ok(true)
}
