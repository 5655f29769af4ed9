use evidence::{Checkpoint, LogId, SignedCheckpoint, tree};
use rusqlite::{Connection, OptionalExtension, Row, Transaction, named_params};

use crate::log::{LogState, leaves_of};
use crate::{Store, StoreError, journal};

/// A signed head of one log.
#[derive(Clone, Debug)]
pub struct StoredCheckpoint {
    /// The device whose log it signs.
    pub device: String,
    /// How many records it covers.
    pub size: u64,
    /// Text, raw signature and signed note.
    pub signed: SignedCheckpoint,
}

impl Store {
    /// Keeps a signed checkpoint beside its log; the same one twice is fine.
    ///
    /// # Errors
    /// [`StoreError::Misfit`] when origin, size or root isn't the log's, or another text is kept for that size;
    /// those of the database.
    pub fn append_checkpoint(&self, log: &LogId, signed: &SignedCheckpoint) -> Result<(), StoreError> {
        self.transact_journalled(|transaction| {
            let new = keep(self, transaction, log, signed)?;
            let lines = if new { journal::checkpoint_line(signed)? } else { String::new() };
            let entry = new.then(|| journal::Entry { log: log.clone(), lines });
            Ok(((), entry.into_iter().collect()))
        })
    }

    /// Every checkpoint of a job, by device and size.
    ///
    /// # Errors
    /// Those of the database.
    pub fn checkpoints(&self, job: &str) -> Result<Vec<StoredCheckpoint>, StoreError> {
        let connection = self.database();
        let mut statement = connection.prepare_cached(include_str!("sql/checkpoints_of_job.sql"))?;
        let checkpoints = statement.query_map(named_params! { ":job": job }, read)?;
        Ok(checkpoints.collect::<Result<_, _>>()?)
    }
}

/// Keeps a checkpoint within a transaction; returns whether it is new.
pub(crate) fn keep(
    store: &Store,
    transaction: &Transaction<'_>,
    log: &LogId,
    signed: &SignedCheckpoint,
) -> Result<bool, StoreError> {
    let checkpoint = Checkpoint::parse(&signed.text)?;
    let state = LogState::find(transaction, log)?;
    store.require_sound(log, state.as_ref())?;
    let state = state.ok_or_else(|| misfit("the log has no records"))?;
    require_covered(transaction, log, &state, &checkpoint)?;
    let insert = include_str!("sql/checkpoint_insert.sql");
    let new = transaction
        .prepare_cached(insert)?
        .execute(named_params! { ":log": state.log, ":size": checkpoint.size,
        ":text": signed.text, ":signature": signed.signature, ":note": signed.note })?;
    require_only(transaction, state.log, checkpoint.size, &signed.text)?;
    Ok(new > 0)
}

fn read(row: &Row<'_>) -> rusqlite::Result<StoredCheckpoint> {
    let signed = SignedCheckpoint { text: row.get(2)?, signature: row.get(3)?, note: row.get(4)? };
    Ok(StoredCheckpoint { device: row.get(0)?, size: row.get(1)?, signed })
}

fn require_covered(
    connection: &Connection,
    log: &LogId,
    state: &LogState,
    checkpoint: &Checkpoint,
) -> Result<(), StoreError> {
    if checkpoint.origin != log.origin() {
        return Err(misfit("the checkpoint is another log's"));
    }
    if checkpoint.size == state.size {
        let same = checkpoint.root == state.root;
        return if same { Ok(()) } else { Err(misfit("the checkpoint's root isn't the log's")) };
    }
    let leaves = leaves_of(connection, state.log)?;
    let size = usize::try_from(checkpoint.size).unwrap_or(usize::MAX);
    match leaves.get(..size) {
        Some(covered) if tree::root(covered) == checkpoint.root => Ok(()),
        Some(_) => Err(misfit("the checkpoint's root isn't the log's")),
        None => Err(misfit("the checkpoint covers more records than the log has")),
    }
}

fn require_only(connection: &Connection, log: i64, size: u64, text: &str) -> Result<(), StoreError> {
    let find = "SELECT text FROM checkpoints WHERE log = ? AND size = ?";
    let kept: Option<String> =
        connection.prepare_cached(find)?.query_row((log, size), |row| row.get(0)).optional()?;
    if kept.as_deref() == Some(text) {
        Ok(())
    } else {
        Err(misfit("another checkpoint of this size is kept"))
    }
}

fn misfit(why: &str) -> StoreError {
    StoreError::Misfit { why: why.to_owned() }
}
