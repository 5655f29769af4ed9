use std::collections::BTreeSet;

use evidence::{
    Checkpoint, Digest, Disclosure, Frontier, LogHead, LogId, PhotoRef, PublicKey, Record, Sealed, tree,
};
use rusqlite::{Connection, Transaction, named_params};

use crate::log::{LogState, frontier_bytes};
use crate::{JobSummary, Store, StoreError, TimeStampWaiting, heads, jobs, journal, time_stamps};

/// A sealed record and everything that becomes true together with it.
pub struct AppendRequest<'a> {
    /// The log it continues.
    pub log: &'a LogId,
    /// The record with its leaf and disclosures.
    pub sealed: &'a Sealed,
    /// The device's Ed25519 signature over the text of [`Store::next_head`]: nothing unsigned gets in.
    pub signature: [u8; 64],
    /// Whether this record says that its owner takes in the records before it that nobody signed for. Any other record
    /// is refused on top of such, because its signature would vouch for them.
    pub takes_in_unsigned: bool,
    /// The job's row in lists and search after this record; `None` leaves the row's words as they were.
    pub summary: Option<&'a JobSummary>,
    /// The form whose draft this record settles: it is dropped with the same commit.
    pub settles_draft: Option<&'a str>,
    /// Whether this record is what the intent on disk was for: it is dropped with the same commit.
    pub settles_intent: bool,
    /// The waiting time-stamp whose token this record holds: it leaves the queue with the same commit.
    pub settles_time_stamp: Option<&'a TimeStampWaiting>,
    /// How many records the job had, over all its logs, when the action was found allowed. Another number now means
    /// that something came in between: the append is refused and the permission must be asked again.
    pub expected_records: Option<u64>,
}

impl<'a> AppendRequest<'a> {
    /// A record that changes no list row and settles nothing.
    pub fn new(log: &'a LogId, sealed: &'a Sealed, signature: [u8; 64]) -> Self {
        Self {
            log,
            sealed,
            signature,
            takes_in_unsigned: false,
            summary: None,
            settles_draft: None,
            settles_intent: false,
            settles_time_stamp: None,
            expected_records: None,
        }
    }
}

impl Store {
    /// Adds a record to its log in one transaction; when it returns, the record survives a loss of power.
    ///
    /// Record, leaf, tree, disclosures, photo references, list row and search words commit together or not at all.
    /// The record is then written to the log's journal as well. When only that fails, the record is kept all the
    /// same, [`Store::journal_trouble`] tells, and the next append or start makes up for it.
    ///
    /// # Errors
    /// [`StoreError::Fork`], [`StoreError::Gap`] or [`StoreError::AlreadyKept`] when the record doesn't continue the
    /// log; [`StoreError::Moved`] when the job isn't as expected; [`StoreError::Misfit`] when the record contradicts
    /// the request; [`StoreError::OriginalMissing`] when it names a photo that isn't kept;
    /// [`StoreError::LogDamaged`]; [`StoreError::DiskFull`] and those of the database.
    pub fn append(&self, request: &AppendRequest<'_>) -> Result<LogHead, StoreError> {
        let record = fitting_record(request)?;
        self.require_originals(&record, &BTreeSet::new())?;
        let kept = KeptRecord::of(request, &record);
        let keys = self.keys_for(request.log);
        self.transact_journalled(|transaction| {
            require_unmoved(transaction, request)?;
            let state = LogState::find(transaction, request.log)?;
            self.require_sound(request.log, state.as_ref())?;
            require_next(transaction, &kept, state.as_ref())?;
            require_signed(request, state.as_ref(), &keys)?;
            require_vouched(transaction, request, state.as_ref(), &keys)?;
            let row = kept.keep(transaction, state.as_ref())?;
            match request.summary {
                Some(summary) => jobs::put(transaction, row, summary)?,
                None => jobs::touch(transaction, row, &record.job)?,
            }
            settle(transaction, request)?;
            let line = journal::record_line(kept.bytes, kept.disclosures, kept.signature.as_ref())?;
            Ok((request.sealed.head(), vec![journal::Entry { log: request.log.clone(), lines: line }]))
        })
    }

    /// How many records a job has, over all its logs; for [`AppendRequest::expected_records`].
    ///
    /// # Errors
    /// Those of the database.
    pub fn job_size(&self, job: &str) -> Result<u64, StoreError> {
        job_size(&self.database(), job)
    }

    /// Every original a record names must be here, other than those destroyed on request.
    pub(crate) fn require_originals(
        &self,
        record: &Record,
        forgotten: &BTreeSet<Digest>,
    ) -> Result<(), StoreError> {
        let missing = |photo: &&PhotoRef| {
            !forgotten.contains(&photo.sha256) && self.original_size(&photo.sha256) != Some(photo.bytes)
        };
        match record.photos.iter().find(missing) {
            Some(photo) => Err(StoreError::OriginalMissing { digest: photo.sha256 }),
            None => Ok(()),
        }
    }

    pub(crate) fn require_sound(&self, log: &LogId, state: Option<&LogState>) -> Result<(), StoreError> {
        match state {
            Some(state) if self.is_damaged(state.log) => Err(StoreError::LogDamaged { log: log.origin() }),
            _ => Ok(()),
        }
    }
}

/// A record read back from its sealed bytes, on its way into the tables.
pub(crate) struct KeptRecord<'a> {
    pub(crate) log: &'a LogId,
    pub(crate) bytes: &'a [u8],
    pub(crate) leaf: Digest,
    pub(crate) record: &'a Record,
    pub(crate) disclosures: &'a [Disclosure],
    pub(crate) signature: Option<[u8; 64]>,
}

impl<'a> KeptRecord<'a> {
    fn of(request: &AppendRequest<'a>, record: &'a Record) -> Self {
        let sealed = request.sealed;
        let (bytes, disclosures) = (sealed.bytes.as_slice(), sealed.disclosures.as_slice());
        let signature = Some(request.signature);
        Self { log: request.log, bytes, leaf: sealed.leaf, record, disclosures, signature }
    }

    /// Writes everything but the list row; returns the record's row.
    pub(crate) fn keep(
        &self,
        transaction: &Transaction<'_>,
        state: Option<&LogState>,
    ) -> Result<i64, StoreError> {
        let log = self.advance(transaction, state)?;
        let sequence = self.record.sequence;
        let leaf = "INSERT INTO leaves (log, sequence, leaf) VALUES (?, ?, ?)";
        transaction.prepare_cached(leaf)?.execute((log, sequence, self.leaf.0))?;
        let insert = include_str!("sql/record_insert.sql");
        let row: i64 = transaction.prepare_cached(insert)?.query_row(
            named_params! { ":log": log, ":sequence": sequence, ":kind": self.record.kind,
            ":wall": self.record.wall, ":bytes": self.bytes },
            |row| row.get(0),
        )?;
        if let Some(signature) = self.signature {
            let sign = "INSERT INTO signatures (log, sequence, signature) VALUES (?, ?, ?)";
            transaction.prepare_cached(sign)?.execute((log, sequence, signature))?;
        }
        keep_disclosures(transaction, row, 0, self.disclosures)?;
        keep_photos(transaction, row, &self.record.photos)?;
        Ok(row)
    }

    /// Writes the tree as it is with this leaf added; returns the log's row.
    fn advance(&self, transaction: &Transaction<'_>, state: Option<&LogState>) -> Result<i64, StoreError> {
        let frontier = grown(self.log, state, self.leaf)?;
        let LogId { shop, job, device } = self.log;
        let log = transaction.prepare_cached(include_str!("sql/log_advance.sql"))?.query_row(
            named_params! { ":shop": shop, ":job": job, ":device": device, ":size": frontier.size(),
            ":last_leaf": self.leaf.0, ":root": frontier.root().0, ":frontier": frontier_bytes(&frontier) },
            |row| row.get(0),
        )?;
        Ok(log)
    }
}

/// The tree as it is with one leaf more.
pub(crate) fn grown(log: &LogId, state: Option<&LogState>, leaf: Digest) -> Result<Frontier, StoreError> {
    let frontier = state.map_or(Some(Frontier::default()), LogState::frontier);
    let mut frontier = frontier.ok_or_else(|| StoreError::LogDamaged { log: log.origin() })?;
    frontier.push(leaf);
    Ok(frontier)
}

/// The device signed for the log as it is with this record.
fn require_signed(
    request: &AppendRequest<'_>,
    state: Option<&LogState>,
    keys: &[PublicKey],
) -> Result<(), StoreError> {
    let head = head_of(request.log, &grown(request.log, state, request.sealed.leaf)?);
    let text = head.text();
    let signed = keys.iter().any(|key| key.verify(text.as_bytes(), &request.signature).is_ok());
    if signed { Ok(()) } else { Err(StoreError::NotSigned { log: request.log.origin() }) }
}

/// What stands in the log already is signed for, or the record says what it takes in.
fn require_vouched(
    transaction: &Transaction<'_>,
    request: &AppendRequest<'_>,
    state: Option<&LogState>,
    keys: &[PublicKey],
) -> Result<(), StoreError> {
    let Some(state) = state.filter(|_| !request.takes_in_unsigned) else { return Ok(()) };
    if heads::newest_is_signed(transaction, request.log, state, keys)? {
        return Ok(());
    }
    let leaves = crate::log::leaves_of(transaction, state.log)?;
    let vouched = heads::Heads::of_log(transaction, state.log)?.vouched(request.log, &leaves, keys);
    Err(StoreError::NotVouched { log: request.log.origin(), from: vouched })
}

/// The checkpoint that a tree of a log stands for.
pub(crate) fn head_of(log: &LogId, frontier: &Frontier) -> Checkpoint {
    Checkpoint { origin: log.origin(), size: frontier.size(), root: frontier.root() }
}

/// Reads the record back from its sealed bytes, because only those count, and compares the request with it.
fn fitting_record(request: &AppendRequest<'_>) -> Result<Record, StoreError> {
    let sealed = request.sealed;
    let record = Record::parse(&sealed.bytes)?;
    let checks = [
        (record.job == request.log.job, "it is sealed for another job"),
        (record.device == request.log.device, "it is sealed by another device"),
        (record.sequence == sealed.sequence, "its place differs from the one given"),
        (tree::leaf(&sealed.bytes) == sealed.leaf, "its bytes differ from its leaf"),
        (
            request.summary.is_none_or(|summary| summary.row.job == record.job),
            "the list row is another job's",
        ),
        (
            sealed.disclosures.iter().all(|shown| record.withheld.contains(&shown.digest())),
            "a disclosure isn't its own",
        ),
    ];
    match checks.into_iter().find(|(fits, _)| !fits) {
        Some((_, why)) => Err(StoreError::Misfit { why: why.to_owned() }),
        None => Ok(record),
    }
}

fn require_unmoved(connection: &Connection, request: &AppendRequest<'_>) -> Result<(), StoreError> {
    let Some(expected) = request.expected_records else { return Ok(()) };
    let found = job_size(connection, &request.log.job)?;
    let job = request.log.job.clone();
    if found == expected { Ok(()) } else { Err(StoreError::Moved { job, expected, found }) }
}

fn job_size(connection: &Connection, job: &str) -> Result<u64, StoreError> {
    let sum = "SELECT coalesce(sum(size), 0) FROM logs WHERE job = ?";
    Ok(connection.prepare_cached(sum)?.query_row([job], |row| row.get(0))?)
}

/// Whether the record is the log's next; tells a fork from a gap and from a repetition.
pub(crate) fn require_next(
    transaction: &Transaction<'_>,
    kept: &KeptRecord<'_>,
    state: Option<&LogState>,
) -> Result<(), StoreError> {
    let (expected, last) = state.map_or((0, None), |state| (state.size, Some(&state.last)));
    let (log, sequence) = (kept.log.origin(), kept.record.sequence);
    if sequence > expected {
        return Err(StoreError::Gap { log, sequence, expected });
    }
    if let Some(state) = state.filter(|_| sequence < expected) {
        let same = leaf_at(transaction, state.log, sequence)? == kept.leaf;
        return Err(if same {
            StoreError::AlreadyKept { log, sequence }
        } else {
            StoreError::Fork { log, sequence }
        });
    }
    if kept.record.previous.as_ref() == last { Ok(()) } else { Err(StoreError::Fork { log, sequence }) }
}

fn leaf_at(transaction: &Transaction<'_>, log: i64, sequence: u64) -> Result<Digest, StoreError> {
    let leaf = "SELECT leaf FROM leaves WHERE log = ? AND sequence = ?";
    Ok(transaction.prepare_cached(leaf)?.query_row((log, sequence), |row| crate::log::digest(row, 0))?)
}

/// Writes disclosures of a record from the given position on.
pub(crate) fn keep_disclosures(
    transaction: &Transaction<'_>,
    row: i64,
    from: i64,
    disclosures: &[Disclosure],
) -> Result<(), StoreError> {
    let insert = "INSERT INTO disclosures (record, position, encoded) VALUES (?, ?, ?)";
    let mut statement = transaction.prepare_cached(insert)?;
    for (disclosure, position) in disclosures.iter().zip(from..) {
        statement.execute((row, position, disclosure.encoded()))?;
    }
    Ok(())
}

pub(crate) fn keep_photos(
    transaction: &Transaction<'_>,
    row: i64,
    photos: &[PhotoRef],
) -> Result<(), StoreError> {
    let mut statement = transaction.prepare_cached(include_str!("sql/photo_insert.sql"))?;
    for (photo, position) in photos.iter().zip(0i64..) {
        statement
            .execute(named_params! { ":record": row, ":position": position, ":sha256": photo.sha256.0,
            ":bytes": photo.bytes, ":media_type": photo.media_type })?;
    }
    Ok(())
}

fn settle(transaction: &Transaction<'_>, request: &AppendRequest<'_>) -> Result<(), StoreError> {
    if let Some(form) = request.settles_draft {
        let drop = "DELETE FROM drafts WHERE job = ? AND form = ?";
        transaction.prepare_cached(drop)?.execute((&request.log.job, form))?;
    }
    if request.settles_intent {
        transaction.prepare_cached("DELETE FROM intent")?.execute([])?;
    }
    if let Some(waiting) = request.settles_time_stamp {
        time_stamps::settle(transaction, waiting)?;
    }
    Ok(())
}
