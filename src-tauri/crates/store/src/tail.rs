use evidence::{Digest, LogId, tree};
use rusqlite::{Connection, OptionalExtension};

use crate::StoreError;
use crate::log::{LogState, digest, log_id};

/// A log that no longer agrees with what was stored about it.
pub(crate) struct Damage {
    pub(crate) log: i64,
    pub(crate) origin: String,
    pub(crate) why: String,
}

/// Recomputes every log: the root from all its leaves, and the newest leaf from the newest record's bytes.
pub(crate) fn check(connection: &Connection) -> Result<Vec<Damage>, StoreError> {
    let mut statement = connection
        .prepare("SELECT log, size, last_leaf, root, frontier, shop, job, device FROM logs ORDER BY log")?;
    let logs = statement.query_map([], |row| Ok((LogState::read(row)?, log_id(row, 5)?)))?;
    let mut damages = Vec::new();
    for log in logs {
        let (state, id) = log?;
        if let Some(why) = disagreement(connection, &state)? {
            damages.push(damage(&state, &id, why));
        }
    }
    Ok(damages)
}

fn damage(state: &LogState, id: &LogId, why: &str) -> Damage {
    Damage { log: state.log, origin: id.origin(), why: why.to_owned() }
}

fn disagreement(connection: &Connection, state: &LogState) -> Result<Option<&'static str>, StoreError> {
    let leaves = leaves_of(connection, state.log)?;
    let newest = newest_record(connection, state.log)?;
    let complaint = if leaves.len() as u64 != state.size {
        Some("the number of records differs")
    } else if leaves.last() != Some(&state.last) {
        Some("the newest leaf differs")
    } else if tree::root(&leaves) != state.root
        || state.frontier().is_none_or(|tree| tree.root() != state.root)
    {
        Some("the root differs")
    } else if newest.as_deref().map(tree::leaf) != Some(state.last) {
        Some("the newest record's bytes differ from its leaf")
    } else {
        None
    };
    Ok(complaint)
}

/// Leaf hashes of one log in order.
pub(crate) fn leaves_of(connection: &Connection, log: i64) -> Result<Vec<Digest>, StoreError> {
    let mut statement =
        connection.prepare_cached("SELECT leaf FROM leaves WHERE log = ? ORDER BY sequence")?;
    let leaves = statement.query_map([log], |row| digest(row, 0))?;
    Ok(leaves.collect::<Result<_, _>>()?)
}

fn newest_record(connection: &Connection, log: i64) -> Result<Option<Vec<u8>>, StoreError> {
    let newest = "SELECT bytes FROM records WHERE log = ? ORDER BY sequence DESC LIMIT 1";
    Ok(connection.prepare_cached(newest)?.query_row([log], |row| row.get(0)).optional()?)
}
