use evidence::{Digest, LogId, PublicKey, SignedCheckpoint};
use rusqlite::{OptionalExtension, Transaction};

use crate::heads::{Heads, signatures};
use crate::journal::JournalCopy;
use crate::log::{LogState, leaves_of};
use crate::{Notice, Store, StoreError, checkpoints};

impl Store {
    /// Signatures and checkpoints that the rows lack, or that don't verify, come back from the journal where its own do.
    /// What has no better copy stays as it is.
    pub(crate) fn mend_signatures(
        &self,
        log: &LogId,
        journal: Option<&JournalCopy>,
        keys: &[PublicKey],
    ) -> Result<Option<Notice>, StoreError> {
        let Some(journal) = journal else { return Ok(None) };
        let changed = self.transact(|transaction| {
            let Some(state) = LogState::find(transaction, log)? else { return Ok(0) };
            let leaves = leaves_of(transaction, state.log)?;
            let mut changed = mend_single(transaction, log, &state, &leaves, journal, keys)?;
            for signed in &journal.copy.checkpoints {
                if keys.iter().any(|key| key.verify_checkpoint(signed).is_ok()) {
                    drop_false(transaction, &state, signed, keys)?;
                    let new = checkpoints::keep(self, transaction, log, signed).unwrap_or(false);
                    changed = changed.saturating_add(u64::from(new));
                }
            }
            Ok(changed)
        })?;
        let log = log.origin();
        Ok((changed > 0).then_some(Notice::LogMended { log, records: 0, values: 0 }))
    }
}

/// The signatures of single records.
fn mend_single(
    transaction: &Transaction<'_>,
    log: &LogId,
    state: &LogState,
    leaves: &[Digest],
    journal: &JournalCopy,
    keys: &[PublicKey],
) -> Result<u64, StoreError> {
    let kept = signatures(transaction, state.log)?;
    let mut changed = 0_u64;
    for (sequence, (copied, leaf)) in (0_u64..).zip(journal.copy.records.iter().zip(&journal.leaves)) {
        let place = usize::try_from(sequence).unwrap_or(usize::MAX);
        let Some(signature) = copied.signature.filter(|signature| kept.get(&sequence) != Some(signature))
        else {
            continue;
        };
        let good = |signature: &[u8; 64]| Heads::signs(log, leaves, sequence, signature, keys);
        if leaves.get(place) != Some(leaf) || !good(&signature) || kept.get(&sequence).is_some_and(good) {
            continue;
        }
        let put = "INSERT INTO signatures (log, sequence, signature) VALUES (?, ?, ?)
                   ON CONFLICT (log, sequence) DO UPDATE SET signature = excluded.signature";
        transaction.prepare_cached(put)?.execute((state.log, sequence, signature))?;
        changed = changed.saturating_add(1);
    }
    Ok(changed)
}

/// A checkpoint of the same size that no known key signed makes room for one that is signed.
fn drop_false(
    transaction: &Transaction<'_>,
    state: &LogState,
    good: &SignedCheckpoint,
    keys: &[PublicKey],
) -> Result<(), StoreError> {
    let size = good.checkpoint()?.size;
    let find = "SELECT text, signature, note FROM checkpoints WHERE log = ? AND size = ?";
    let kept: Option<SignedCheckpoint> = transaction
        .prepare_cached(find)?
        .query_row((state.log, size), |row| {
            Ok(SignedCheckpoint { text: row.get(0)?, signature: row.get(1)?, note: row.get(2)? })
        })
        .optional()?;
    let false_one = kept.is_some_and(|kept| !keys.iter().any(|key| key.verify_checkpoint(&kept).is_ok()));
    if false_one {
        transaction.execute("DELETE FROM time_stamp_queue WHERE log = ? AND size = ?", (state.log, size))?;
        transaction.execute("DELETE FROM checkpoints WHERE log = ? AND size = ?", (state.log, size))?;
    }
    Ok(())
}
