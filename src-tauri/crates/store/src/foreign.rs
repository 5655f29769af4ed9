use std::collections::BTreeSet;

use evidence::{Digest, Disclosure, LogId, PublicKey, Record, SignedCheckpoint, tree};
use rusqlite::Transaction;

use crate::append::{KeptRecord, keep_disclosures, require_next};
use crate::heads::Heads;
use crate::journal::Entry;
use crate::log::{LogState, digest, leaves_of};
use crate::{Store, StoreError, checkpoints, jobs, journal};

/// A log as it comes from elsewhere: another device, an open export, a journal. It may begin in the middle.
#[derive(Clone, Debug, PartialEq)]
pub struct LogCopy {
    /// Whose log.
    pub log: LogId,
    /// Records in order.
    pub records: Vec<CopiedRecord>,
    /// Signed heads.
    pub checkpoints: Vec<SignedCheckpoint>,
    /// Digests of values and originals that were destroyed on request.
    pub forgotten: Vec<Digest>,
}

impl LogCopy {
    /// A copy without anything in it yet.
    pub fn new(log: LogId) -> Self {
        Self { log, records: Vec::new(), checkpoints: Vec::new(), forgotten: Vec::new() }
    }

    /// A copy of its first records with what signs for them alone; for a copy that begins with the first record.
    pub(crate) fn first(&self, length: u64) -> Self {
        let mut copy = self.clone();
        copy.records.truncate(usize::try_from(length).unwrap_or(usize::MAX));
        copy.checkpoints.retain(|signed| signed.checkpoint().is_ok_and(|covered| covered.size <= length));
        copy
    }
}

/// A record from elsewhere with those of its withheld values that came along.
#[derive(Clone, Debug, PartialEq)]
pub struct CopiedRecord {
    /// The sealed bytes.
    pub bytes: Vec<u8>,
    /// Values that may be withheld.
    pub disclosures: Vec<Disclosure>,
    /// The device's signature over the log's head with this record as its last; records from before schema 3 have none.
    pub signature: Option<[u8; 64]>,
}

/// What a union brought.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LogUnion {
    /// Records that are new here.
    pub added: u64,
    /// Records that were kept already, byte for byte.
    pub already: u64,
    /// Withheld values that are new here, for records kept already.
    pub values: u64,
    /// Checkpoints that are new here.
    pub checkpoints: u64,
}

/// How strict a union is.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Rule {
    /// Everything must hold, and every original must be here.
    AllOrNothing,
    /// Originals may be missing and a checkpoint that doesn't fit is left out: for rebuilding after a loss.
    TakeWhatHolds,
}

impl Store {
    /// Unites a log from elsewhere with what is kept of it: new records are added, known ones stay as they are.
    ///
    /// Every record is read back, chained by its hash and compared; a checkpoint must fit the log and be signed by a key
    /// known of that device, and so must the log's head as it will be. All of it is kept or nothing. Afterwards the job must be
    /// folded again: see [`Store::jobs_to_fold`].
    ///
    /// # Errors
    /// [`StoreError::Fork`] names the first place two different records claim; nothing is overwritten.
    /// [`StoreError::NotVouched`] names the first record that nobody known signed for.
    /// [`StoreError::CopyDamaged`], [`StoreError::Gap`], [`StoreError::OriginalMissing`], [`StoreError::Misfit`],
    /// [`StoreError::LogDamaged`] and those of the database.
    pub fn foreign_append(&self, copy: &LogCopy) -> Result<LogUnion, StoreError> {
        self.unite(copy, Rule::AllOrNothing)
    }

    pub(crate) fn unite(&self, copy: &LogCopy, rule: Rule) -> Result<LogUnion, StoreError> {
        let records = chained(copy)?;
        if rule == Rule::AllOrNothing {
            let forgotten = copy.forgotten.iter().copied().chain(self.forgotten()?).collect();
            records.iter().try_for_each(|record| self.require_originals(record, &forgotten))?;
            self.require_signed(copy)?;
            self.require_copy_vouched(copy, &records)?;
        }
        self.transact_journalled(|transaction| {
            let mut work = Uniting::begin(self, transaction, copy, rule)?;
            copy.records.iter().zip(&records).try_for_each(|(copied, record)| work.record(copied, record))?;
            copy.checkpoints.iter().try_for_each(|signed| work.checkpoint(signed))?;
            work.finish()
        })
    }

    /// A known key of the device signed for the log as it will be. A copy that contradicts what is kept, or comes too early,
    /// is left to be named as such.
    fn require_copy_vouched(&self, copy: &LogCopy, records: &[Record]) -> Result<(), StoreError> {
        let Some(first) = records.first().map(|record| record.sequence) else { return Ok(()) };
        let (mut leaves, mut heads) = {
            let connection = self.database();
            match LogState::find(&connection, &copy.log)? {
                Some(state) => (leaves_of(&connection, state.log)?, Heads::of_log(&connection, state.log)?),
                None => Default::default(),
            }
        };
        let from = usize::try_from(first).unwrap_or(usize::MAX);
        for (place, copied) in (from..).zip(&copy.records) {
            let leaf = tree::leaf(&copied.bytes);
            match leaves.get(place) {
                Some(kept) if *kept == leaf => {}
                None if place == leaves.len() => leaves.push(leaf),
                _ => return Ok(()),
            }
        }
        heads.join(Heads::of_copy(copy, first));
        let vouched = heads.vouched(&copy.log, &leaves, &self.keys_for(&copy.log));
        if vouched == leaves.len() as u64 {
            Ok(())
        } else {
            Err(StoreError::NotVouched { log: copy.log.origin(), from: vouched })
        }
    }

    fn require_signed(&self, copy: &LogCopy) -> Result<(), StoreError> {
        let keys = self.public_keys_of(&copy.log.device)?;
        let by_one = |signed: &SignedCheckpoint| {
            keys.iter().any(|key: &PublicKey| key.verify_checkpoint(signed).is_ok())
        };
        if keys.is_empty() || copy.checkpoints.iter().all(by_one) {
            Ok(())
        } else {
            Err(misfit("a checkpoint is signed by none of the keys known of its device"))
        }
    }
}

/// The copy as far as its chain holds, and what is wrong with the first record that is left out.
pub(crate) fn sound_part(mut copy: LogCopy) -> (LogCopy, Option<String>) {
    let Err(StoreError::CopyDamaged { place, why, .. }) = chained(&copy) else { return (copy, None) };
    copy.records.truncate(place);
    (copy, Some(format!("record {place}: {why}")))
}

/// Reads every record back and follows the chain from one to the next.
pub(crate) fn chained(copy: &LogCopy) -> Result<Vec<Record>, StoreError> {
    let mut records: Vec<Record> = Vec::with_capacity(copy.records.len());
    let mut last: Option<(u64, Digest)> = None;
    for (place, copied) in copy.records.iter().enumerate() {
        let damaged = |why: String| StoreError::CopyDamaged { log: copy.log.origin(), place, why };
        let record = Record::parse(&copied.bytes).map_err(|error| damaged(error.to_string()))?;
        follows(copy, copied, &record, last).map_err(|why| damaged(why.to_owned()))?;
        last = Some((record.sequence, tree::leaf(&copied.bytes)));
        records.push(record);
    }
    Ok(records)
}

fn follows(
    copy: &LogCopy,
    copied: &CopiedRecord,
    record: &Record,
    last: Option<(u64, Digest)>,
) -> Result<(), &'static str> {
    let own = |shown: &Disclosure| record.withheld.contains(&shown.digest());
    let next = last.is_none_or(|(sequence, leaf)| {
        record.sequence == sequence.saturating_add(1) && record.previous == Some(leaf)
    });
    let checks = [
        (record.job == copy.log.job, "it is sealed for another job"),
        (record.device == copy.log.device, "it is sealed by another device"),
        (next, "it doesn't follow the record before it"),
        (copied.disclosures.iter().all(own), "a disclosure isn't its own"),
    ];
    checks.into_iter().find(|(fits, _)| !fits).map_or(Ok(()), |(_, why)| Err(why))
}

/// A union half done, within its transaction.
pub(crate) struct Uniting<'a> {
    store: &'a Store,
    transaction: &'a Transaction<'a>,
    copy: &'a LogCopy,
    rule: Rule,
    forgotten: BTreeSet<Digest>,
    union: LogUnion,
    lines: String,
}

impl<'a> Uniting<'a> {
    pub(crate) fn begin(
        store: &'a Store,
        transaction: &'a Transaction<'a>,
        copy: &'a LogCopy,
        rule: Rule,
    ) -> Result<Self, StoreError> {
        store.require_sound(&copy.log, LogState::find(transaction, &copy.log)?.as_ref())?;
        let forgotten = take_up_forgotten(transaction, copy)?;
        let (union, lines) = (LogUnion::default(), String::new());
        Ok(Self { store, transaction, copy, rule, forgotten, union, lines })
    }

    pub(crate) fn record(&mut self, copied: &CopiedRecord, record: &Record) -> Result<(), StoreError> {
        let known = |shown: &&Disclosure| !self.forgotten.contains(&shown.digest());
        let disclosures: Vec<Disclosure> = copied.disclosures.iter().filter(known).cloned().collect();
        let (log, bytes) = (&self.copy.log, copied.bytes.as_slice());
        let (leaf, signature) = (tree::leaf(bytes), copied.signature);
        let kept = KeptRecord { log, bytes, leaf, record, disclosures: &disclosures, signature };
        let state = LogState::find(self.transaction, log)?;
        match require_next(self.transaction, &kept, state.as_ref()) {
            Ok(()) => {
                let row = kept.keep(self.transaction, state.as_ref())?;
                jobs::touch(self.transaction, row, &record.job)?;
                self.lines.push_str(&journal::record_line(bytes, &disclosures, signature.as_ref())?);
                self.union.added = self.union.added.saturating_add(1);
            }
            Err(StoreError::AlreadyKept { sequence, .. }) => {
                let state = state.map_or(0, |state| state.log);
                let values = add_values(self.transaction, state, sequence, &disclosures)?;
                self.union.values = self.union.values.saturating_add(values);
                self.union.already = self.union.already.saturating_add(1);
            }
            Err(error) => return Err(error),
        }
        Ok(())
    }

    pub(crate) fn checkpoint(&mut self, signed: &SignedCheckpoint) -> Result<(), StoreError> {
        match checkpoints::keep(self.store, self.transaction, &self.copy.log, signed) {
            Ok(false) => {}
            Ok(true) => {
                self.lines.push_str(&journal::checkpoint_line(signed)?);
                self.union.checkpoints = self.union.checkpoints.saturating_add(1);
            }
            Err(StoreError::Misfit { .. } | StoreError::Evidence(_)) if self.rule == Rule::TakeWhatHolds => {}
            Err(error) => return Err(error),
        }
        Ok(())
    }

    pub(crate) fn finish(self) -> Result<(LogUnion, Vec<Entry>), StoreError> {
        // A value added to an earlier record changes a line within the journal; and what a journal gave back may
        // stand in it already.
        let anew = self.union.values > 0 || self.rule == Rule::TakeWhatHolds;
        if self.union.added > 0 || self.union.values > 0 {
            jobs::mark_to_fold(self.transaction, &self.copy.log.job)?;
        }
        let changed = self.union.values > 0 || !self.lines.is_empty();
        let lines = if anew { String::new() } else { self.lines };
        let entry = changed.then(|| Entry { log: self.copy.log.clone(), lines });
        Ok((self.union, entry.into_iter().collect()))
    }
}

/// What others destroyed stays out. A copy can't make this device destroy what it holds: only its owner asks for that.
fn take_up_forgotten(transaction: &Transaction<'_>, copy: &LogCopy) -> Result<BTreeSet<Digest>, StoreError> {
    let insert = "INSERT INTO forgotten (digest, job) VALUES (?, ?) ON CONFLICT DO NOTHING";
    let held = held_digests(transaction, &copy.log.job)?;
    for digest in copy.forgotten.iter().filter(|digest| !held.contains(digest)) {
        transaction.prepare_cached(insert)?.execute((digest.0, &copy.log.job))?;
    }
    let mut statement = transaction.prepare_cached("SELECT digest FROM forgotten WHERE job = ?")?;
    let forgotten = statement.query_map([&copy.log.job], |row| digest(row, 0))?;
    Ok(forgotten.collect::<Result<_, _>>()?)
}

fn held_digests(transaction: &Transaction<'_>, job: &str) -> Result<BTreeSet<Digest>, StoreError> {
    let mut statement = transaction.prepare_cached(include_str!("sql/disclosures_of_job.sql"))?;
    let encoded = statement.query_map([job], |row| row.get::<_, String>(0))?;
    encoded.map(|text| Ok(Digest::of(text?.as_bytes()))).collect()
}

fn add_values(
    transaction: &Transaction<'_>,
    log: i64,
    sequence: u64,
    disclosures: &[Disclosure],
) -> Result<u64, StoreError> {
    let find = "SELECT record FROM records WHERE log = ? AND sequence = ?";
    let row: i64 = transaction.prepare_cached(find)?.query_row((log, sequence), |row| row.get(0))?;
    let mut statement = transaction.prepare_cached("SELECT encoded FROM disclosures WHERE record = ?")?;
    let held: BTreeSet<String> = statement.query_map([row], |row| row.get(0))?.collect::<Result<_, _>>()?;
    let new: Vec<Disclosure> =
        disclosures.iter().filter(|shown| !held.contains(shown.encoded())).cloned().collect();
    let next = "SELECT coalesce(max(position), -1) + 1 FROM disclosures WHERE record = ?";
    let from: i64 = transaction.prepare_cached(next)?.query_row([row], |row| row.get(0))?;
    keep_disclosures(transaction, row, from, &new)?;
    Ok(new.len() as u64)
}

fn misfit(why: &str) -> StoreError {
    StoreError::Misfit { why: why.to_owned() }
}
