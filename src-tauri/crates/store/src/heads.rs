//! How far a log is vouched for: the longest part of it whose head a known key of its device signed.

use std::collections::BTreeMap;

use evidence::{Checkpoint, Digest, Levels, LogId, PublicKey};
use rusqlite::{Connection, named_params};

use crate::append::{grown, head_of};
use crate::log::{LogState, leaves_of};
use crate::{CopiedRecord, LogCopy, Store, StoreError};

/// Signatures by the number of records they cover. One over the newest record vouches for all before it.
#[derive(Clone, Debug, Default)]
pub(crate) struct Heads {
    by_size: BTreeMap<u64, Vec<[u8; 64]>>,
    /// Whether records were signed one by one, as they are since schema 3.
    pub(crate) one_by_one: bool,
}

impl Heads {
    /// What the database holds of a log's signatures.
    pub(crate) fn of_log(connection: &Connection, log: i64) -> Result<Self, StoreError> {
        let mut heads = Self::default();
        for (sequence, signature) in signatures(connection, log)? {
            heads.add_record(sequence, signature);
        }
        let mut statement =
            connection.prepare_cached("SELECT size, signature FROM checkpoints WHERE log = ?")?;
        let rows = statement.query_map([log], |row| Ok((row.get(0)?, row.get(1)?)))?;
        for row in rows {
            let (size, signature) = row?;
            heads.add(size, signature);
        }
        Ok(heads)
    }

    /// What a copy brings along. A checkpoint that can't be read vouches for nothing.
    pub(crate) fn of_copy(copy: &LogCopy, first: u64) -> Self {
        let mut heads = Self::default();
        for (sequence, CopiedRecord { signature, .. }) in (first..).zip(&copy.records) {
            signature.iter().for_each(|signature| heads.add_record(sequence, *signature));
        }
        for signed in &copy.checkpoints {
            if let Ok(checkpoint) = signed.checkpoint() {
                heads.add(checkpoint.size, signed.signature);
            }
        }
        heads
    }

    pub(crate) fn join(&mut self, other: Self) {
        self.one_by_one |= other.one_by_one;
        for (size, signatures) in other.by_size {
            self.by_size.entry(size).or_default().extend(signatures);
        }
    }

    fn add_record(&mut self, sequence: u64, signature: [u8; 64]) {
        self.one_by_one = true;
        self.add(sequence.saturating_add(1), signature);
    }

    fn add(&mut self, size: u64, signature: [u8; 64]) {
        self.by_size.entry(size).or_default().push(signature);
    }

    /// How many of the log's records, from the first on, one of the keys signed for. The newest signature is tried first:
    /// in a sound log that is the only one looked at.
    pub(crate) fn vouched(&self, log: &LogId, leaves: &[Digest], keys: &[PublicKey]) -> u64 {
        let length = leaves.len() as u64;
        let (levels, origin) = (Levels::of(leaves), log.origin());
        let signed = |size: u64, signatures: &Vec<[u8; 64]>| {
            let Some(root) = levels.root_at(size) else { return false };
            let text = Checkpoint { origin: origin.clone(), size, root }.text();
            let by =
                |signature: &[u8; 64]| keys.iter().any(|key| key.verify(text.as_bytes(), signature).is_ok());
            signatures.iter().any(by)
        };
        let newest =
            self.by_size.range(..=length).rev().find(|(size, signatures)| signed(**size, signatures));
        newest.map_or(0, |(size, _)| *size)
    }
}

impl Heads {
    /// Whether a signature over the log with one record as its last is by one of the keys.
    pub(crate) fn signs(
        log: &LogId,
        leaves: &[Digest],
        sequence: u64,
        signature: &[u8; 64],
        keys: &[PublicKey],
    ) -> bool {
        let size = sequence.saturating_add(1);
        let first = usize::try_from(size).ok().and_then(|size| leaves.get(..size));
        first.is_some_and(|first| {
            let head = Checkpoint { origin: log.origin(), size, root: evidence::Frontier::of(first).root() };
            keys.iter().any(|key| key.verify(head.text().as_bytes(), signature).is_ok())
        })
    }
}

/// Signatures of a log's records, by sequence.
pub(crate) fn signatures(connection: &Connection, log: i64) -> Result<BTreeMap<u64, [u8; 64]>, StoreError> {
    let find = "SELECT sequence, signature FROM signatures WHERE log = ? ORDER BY sequence";
    let mut statement = connection.prepare_cached(find)?;
    let rows = statement.query_map([log], |row| Ok((row.get(0)?, row.get(1)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Whether a known key signed for all that the log holds, judged by its stored root alone.
pub(crate) fn newest_is_signed(
    connection: &Connection,
    log: &LogId,
    state: &LogState,
    keys: &[PublicKey],
) -> Result<bool, StoreError> {
    let text = Checkpoint { origin: log.origin(), size: state.size, root: state.root }.text();
    let mut statement = connection.prepare_cached(include_str!("sql/newest_signatures.sql"))?;
    let names = named_params! { ":log": state.log, ":size": state.size };
    let rows = statement.query_map(names, |row| row.get::<_, [u8; 64]>(0))?;
    let signatures: Vec<[u8; 64]> = rows.collect::<Result<_, _>>()?;
    let by = |signature: &[u8; 64]| keys.iter().any(|key| key.verify(text.as_bytes(), signature).is_ok());
    Ok(signatures.iter().any(by))
}

impl Store {
    /// The signature that each record got when it was sealed, by the number of records it covers, as far as it is by a known
    /// key. Records from before schema 3 have none.
    ///
    /// # Errors
    /// Those of the database.
    pub fn signatures(&self, log: &LogId) -> Result<Vec<(u64, [u8; 64])>, StoreError> {
        let keys = self.keys_for(log);
        let connection = self.database();
        let Some(state) = LogState::find(&connection, log)? else { return Ok(Vec::new()) };
        let signed = signatures(&connection, state.log)?;
        let leaves = Levels::of(&leaves_of(&connection, state.log)?);
        // One that was changed on disk proves nothing and would spoil the others.
        let good = |size: u64, signature: &[u8; 64]| {
            let Some(root) = leaves.root_at(size) else { return false };
            let text = Checkpoint { origin: log.origin(), size, root }.text();
            keys.iter().any(|key| key.verify(text.as_bytes(), signature).is_ok())
        };
        let sized = signed.into_iter().map(|(sequence, signature)| (sequence.saturating_add(1), signature));
        Ok(sized.filter(|(size, signature)| good(*size, signature)).collect())
    }

    /// Place of the first record, from 0, that no key known of its device signed for; `None` where all are signed for.
    ///
    /// # Errors
    /// Those of the database and the key's files.
    pub fn first_not_vouched(&self, log: &LogId) -> Result<Option<u64>, StoreError> {
        let keys = self.keys_for(log);
        let connection = self.database();
        let Some(state) = LogState::find(&connection, log)? else { return Ok(None) };
        if newest_is_signed(&connection, log, &state, &keys)? {
            return Ok(None);
        }
        let leaves = leaves_of(&connection, state.log)?;
        let vouched = Heads::of_log(&connection, state.log)?.vouched(log, &leaves, &keys);
        Ok((vouched < state.size).then_some(vouched))
    }

    /// The checkpoint of a log as it will be with one more record, for its device to sign.
    ///
    /// # Errors
    /// [`StoreError::LogDamaged`]; those of the database.
    pub fn next_head(&self, log: &LogId, leaf: Digest) -> Result<Checkpoint, StoreError> {
        let state = LogState::find(&self.database(), log)?;
        Ok(head_of(log, &grown(log, state.as_ref(), leaf)?))
    }
}
