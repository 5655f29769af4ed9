use std::collections::{BTreeMap, BTreeSet};

use evidence::{Digest, Disclosure, LogId, PublicKey, tree};
use rusqlite::{OptionalExtension, Transaction, named_params};

use crate::append::{keep_disclosures, keep_photos};
use crate::check::Survey;
use crate::check::survey::{Repeated, encoded_values, forgotten_of, survey};
use crate::journal::{self, JournalCopy};
use crate::log::{LogState, frontier_bytes};
use crate::{CopiedRecord, Notice, Store, StoreError};

impl Store {
    /// Surveys every log of a job and settles what doesn't hold. What was found is told by [`Store::take_findings`].
    pub(crate) fn require_checked(&self, job: &str) -> Result<BTreeMap<LogId, Survey>, StoreError> {
        let mut surveys = BTreeMap::new();
        for log in self.logs(job)? {
            if let Some(survey) = self.checked(&log)? {
                surveys.insert(log, survey);
            }
        }
        Ok(surveys)
    }

    /// One log as it is once what doesn't hold was settled; `None` when nothing is left of it.
    pub(crate) fn checked(&self, log: &LogId) -> Result<Option<Survey>, StoreError> {
        let keys = self.keys_for(log);
        let Some(found) = self.survey_of(log, &keys)? else { return Ok(None) };
        // What lacks may lack, and a stranger's log may have no known key: the journal is asked once.
        let asks = !found.lacking.is_empty() || found.doubtful();
        if found.sound() && !found.intruded() && !(asks && self.ask_once(log, found.size())) {
            return Ok(Some(found));
        }
        let notices = self.mend(log)?;
        self.tell(notices);
        self.survey_of(log, &keys)
    }

    /// Settles a log's rows against its journal: whichever of the two is signed for further is believed; nothing is ever
    /// written from bytes that don't hash.
    pub(crate) fn mend(&self, log: &LogId) -> Result<Vec<Notice>, StoreError> {
        let keys = self.keys_for(log);
        let journal = JournalCopy::read(&self.journal.path(log), Some(log), &|log| self.keys_for(log));
        let Some(mut before) = self.survey_of(log, &keys)? else { return Ok(Vec::new()) };
        let mut notices = Vec::new();
        if before.vouched_by_bytes > before.vouched {
            // The records hold together and are signed for: it was their leaves that were changed.
            let records =
                before.leaves.iter().zip(&before.hashed).filter(|(leaf, hashed)| leaf != hashed).count();
            self.put_leaves(log, &before.hashed)?;
            notices.push(Notice::LogMended { log: log.origin(), records: records as u64, values: 0 });
            let Some(anew) = self.survey_of(log, &keys)? else { return Ok(notices) };
            before = anew;
        }
        // Without the key itself, whoever put another public half beside it decides what is vouched for: then nothing is
        // taken out or replaced.
        let sure = self.key_is_at_hand();
        match &journal {
            Some(journal) if sure && better(journal, &before) => {
                let believed = journal.believed();
                let changed =
                    journal.leaves.iter().zip(&before.leaves).filter(|(ours, theirs)| ours != theirs);
                let more = (believed.records.len() as u64).saturating_sub(before.size());
                let records = (changed.count() as u64).saturating_add(more).max(before.damaged.len() as u64);
                self.replace_rows(&believed)?;
                notices.push(Notice::LogMended { log: log.origin(), records, values: 0 });
            }
            _ => notices.extend(self.repair_rows(log, &before, journal.as_ref())?),
        }
        let signatures = self.mend_signatures(log, journal.as_ref(), &keys)?;
        notices.extend(signatures);
        let mut after = self.survey_of(log, &keys)?;
        if let Some(intruded) = after.as_ref().filter(|survey| sure && survey.intruded()) {
            notices.push(self.set_tail_aside(log, intruded.vouched)?);
            after = self.survey_of(log, &keys)?;
        }
        let complaint = after.as_ref().and_then(Survey::complaint);
        self.mark_damaged(log, complaint.is_some())?;
        match (complaint, after) {
            (Some(why), _) => notices.push(Notice::LogDamaged { log: log.origin(), why }),
            (None, Some(after)) => {
                notices.extend(self.settle_journal(log, journal.as_ref(), &after, sure)?)
            }
            (None, None) => {}
        }
        Ok(notices)
    }

    /// Row by row: bytes and values from the journal where they hash to what the signed tree says, derived rows from the
    /// records themselves.
    fn repair_rows(
        &self,
        log: &LogId,
        before: &Survey,
        journal: Option<&JournalCopy>,
    ) -> Result<Option<Notice>, StoreError> {
        let (records, values) = self.transact(|transaction| {
            let Some(state) = LogState::find(transaction, log)? else { return Ok((0, 0)) };
            let forgotten = forgotten_of(transaction, &log.job)?;
            let (mut records, mut values) = (0_u64, 0_u64);
            let touched: BTreeSet<u64> = [&before.damaged, &before.altered, &before.lacking, &before.derived]
                .into_iter()
                .flatten()
                .copied()
                .collect();
            for sequence in touched {
                let place = usize::try_from(sequence).unwrap_or(usize::MAX);
                let leaf = before.leaves.get(place).copied();
                let copied = journal.and_then(|journal| journal.copy.records.get(place));
                let copied = copied.filter(|copied| Some(tree::leaf(&copied.bytes)) == leaf);
                if before.damaged.contains(&sequence)
                    && let Some(copied) = copied
                {
                    put_bytes(transaction, state.log, sequence, &copied.bytes)?;
                    records = records.saturating_add(1);
                }
                let added = put_values(transaction, state.log, sequence, leaf, copied, &forgotten)?;
                values = values.saturating_add(added);
            }
            put_state(transaction, &state, before)?;
            Ok((records, values))
        })?;
        let some = records > 0 || values > 0 || !before.row_fits || !before.derived.is_empty();
        Ok(some.then(|| Notice::LogMended { log: log.origin(), records, values }))
    }

    fn put_leaves(&self, log: &LogId, leaves: &[Digest]) -> Result<(), StoreError> {
        self.transact(|transaction| {
            let Some(state) = LogState::find(transaction, log)? else { return Ok(()) };
            let put = "UPDATE leaves SET leaf = ?3 WHERE log = ?1 AND sequence = ?2 AND leaf <> ?3";
            for (sequence, leaf) in (0_u64..).zip(leaves) {
                transaction.prepare_cached(put)?.execute((state.log, sequence, leaf.0))?;
            }
            Ok(())
        })
    }

    pub(crate) fn survey_of(&self, log: &LogId, keys: &[PublicKey]) -> Result<Option<Survey>, StoreError> {
        let connection = self.database();
        match LogState::find(&connection, log)? {
            Some(state) => Ok(Some(survey(&connection, log, &state, keys)?)),
            None => Ok(None),
        }
    }

    fn mark_damaged(&self, log: &LogId, damaged: bool) -> Result<(), StoreError> {
        let Some(state) = LogState::find(&self.database(), log)? else { return Ok(()) };
        let mut marked = self.damaged.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let _ = if damaged { marked.insert(state.log) } else { marked.remove(&state.log) };
        Ok(())
    }

    /// The journal says what the rows say; what it holds beyond them is put aside before it is written anew.
    fn settle_journal(
        &self,
        log: &LogId,
        journal: Option<&JournalCopy>,
        after: &Survey,
        sure: bool,
    ) -> Result<Option<Notice>, StoreError> {
        let path = self.journal.path(log);
        let text = journal::text_of(&self.database(), log)?;
        if std::fs::read(&path).is_ok_and(|kept| kept == text.as_bytes()) {
            self.note_journal_length(log, text.len() as u64)?;
            return Ok(None);
        }
        let ours: BTreeSet<Digest> = after.leaves.iter().copied().collect();
        // Values that the rows no longer have count as strange: forgetting writes the journal itself.
        let lost = journal.map_or(0, |journal| journal.values_beyond(&text, &ours));
        let strange = journal.map_or(0, |journal| journal.everything.difference(&ours).count() as u64);
        let strange = strange.saturating_add(lost);
        if strange > 0 && !sure {
            return Ok(None);
        }
        let notice = if strange > 0 {
            let to = self.put_aside(&path)?;
            let goes_on =
                lost == 0 && journal.is_some_and(|journal| journal.leaves.starts_with(&after.leaves));
            let log = log.origin();
            Some(if goes_on {
                Notice::NotVouched { log, records: strange, to }
            } else {
                Notice::JournalDiffers { log, to }
            })
        } else {
            None
        };
        self.rewrite_journal(log);
        Ok(notice)
    }
}

/// Whether the journal's copy is to be believed before the database's.
fn better(journal: &JournalCopy, rows: &Survey) -> bool {
    let older = !journal.one_by_one && !rows.one_by_one;
    let longer = journal.leaves.len() >= rows.leaves.len();
    journal.vouched > rows.vouched || (journal.vouched == rows.vouched && older && !rows.row_fits && longer)
}

fn put_bytes(transaction: &Transaction<'_>, log: i64, sequence: u64, bytes: &[u8]) -> Result<(), StoreError> {
    let Repeated { kind, wall, .. } = serde_json::from_slice(bytes)?;
    let record = free_place(transaction, log, sequence)?;
    let put = include_str!("../sql/record_put_back.sql");
    transaction.prepare_cached(put)?.execute(named_params! { ":record": record, ":log": log,
    ":sequence": sequence, ":kind": kind, ":wall": wall, ":bytes": bytes })?;
    Ok(())
}

/// The first free row number after the record before: a row that is gone has left its own.
fn free_place(transaction: &Transaction<'_>, log: i64, sequence: u64) -> Result<i64, StoreError> {
    let before = "SELECT coalesce(max(record), 0) FROM records WHERE log = ? AND sequence < ?";
    let before: i64 = transaction.prepare_cached(before)?.query_row((log, sequence), |row| row.get(0))?;
    let taken = "SELECT count(*) FROM records WHERE record = ?";
    let mut place = before.saturating_add(1);
    while transaction.prepare_cached(taken)?.query_row([place], |row| row.get::<_, i64>(0))? > 0 {
        place = place.saturating_add(1);
    }
    Ok(place)
}

/// Rows that follow from a record's bytes, and its values: those that aren't its own go, those the journal has come back.
fn put_values(
    transaction: &Transaction<'_>,
    log: i64,
    sequence: u64,
    leaf: Option<Digest>,
    copied: Option<&CopiedRecord>,
    forgotten: &BTreeSet<Digest>,
) -> Result<u64, StoreError> {
    let find = "SELECT record, bytes FROM records WHERE log = ? AND sequence = ?";
    let row: Option<(i64, Vec<u8>)> = transaction
        .prepare_cached(find)?
        .query_row((log, sequence), |row| Ok((row.get(0)?, row.get(1)?)))
        .optional()?;
    let Some((record, bytes)) = row.filter(|(_, bytes)| Some(tree::leaf(bytes)) == leaf) else {
        return Ok(0);
    };
    let repeated: Repeated = serde_json::from_slice(&bytes)?;
    let put = "UPDATE records SET kind = ?, wall = ? WHERE record = ?";
    transaction.prepare_cached(put)?.execute((&repeated.kind, &repeated.wall, record))?;
    transaction.prepare_cached("DELETE FROM photos WHERE record = ?")?.execute([record])?;
    keep_photos(transaction, record, &repeated.photos)?;
    let mut held = BTreeSet::new();
    let mut own: Vec<Disclosure> = Vec::new();
    let there = encoded_values(transaction, record)?;
    let copied = copied
        .into_iter()
        .flat_map(|copied| copied.disclosures.iter().map(|value| value.encoded().to_owned()));
    for encoded in there.iter().cloned().chain(copied) {
        let digest = Digest::of(encoded.as_bytes());
        let belongs = repeated.withheld.contains(&digest) && !forgotten.contains(&digest);
        if belongs && held.insert(digest) {
            own.push(Disclosure::parse(&encoded)?);
        }
    }
    if own.iter().map(Disclosure::encoded).eq(there.iter().map(String::as_str)) {
        return Ok(0);
    }
    let added = own.iter().filter(|value| !there.iter().any(|kept| kept == value.encoded())).count() as u64;
    if added == 0 && own.len() < there.len() {
        // Nothing to put in the altered value's place: it stays as it is found, so that it can be looked at.
        return Ok(0);
    }
    transaction.prepare_cached("DELETE FROM disclosures WHERE record = ?")?.execute([record])?;
    keep_disclosures(transaction, record, 0, &own)?;
    Ok(added)
}

/// Where the leaves are signed for, size and root follow from them whatever the row says.
fn put_state(transaction: &Transaction<'_>, state: &LogState, before: &Survey) -> Result<(), StoreError> {
    let signed = before.size() > 0 && before.vouched == before.size();
    if before.row_fits || !signed {
        return Ok(());
    }
    let tree = evidence::Frontier::of(&before.leaves);
    let last = before.leaves.last().map(|leaf| leaf.0);
    let put = "UPDATE logs SET size = ?, last_leaf = ?, root = ?, frontier = ? WHERE log = ?";
    let row = (tree.size(), last, tree.root().0, frontier_bytes(&tree), state.log);
    transaction.prepare_cached(put)?.execute(row)?;
    Ok(())
}
