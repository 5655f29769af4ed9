use evidence::{Digest, Frontier, LogHead, LogId, PhotoRef, Record, Sealed, tree};
use rusqlite::{Transaction, named_params};

use crate::log::{LogState, frontier_bytes};
use crate::{JobSummary, Store, StoreError, jobs};

/// A sealed record and everything that becomes true together with it.
pub struct AppendRequest<'a> {
    /// The log it continues.
    pub log: &'a LogId,
    /// The record with its leaf and disclosures.
    pub sealed: &'a Sealed,
    /// The job's row in lists and search after this record; `None` leaves the row's words as they were.
    pub summary: Option<&'a JobSummary>,
    /// The form whose draft this record settles: it is dropped with the same commit.
    pub settles_draft: Option<&'a str>,
    /// Whether this record is what the intent on disk was for: it is dropped with the same commit.
    pub settles_intent: bool,
}

impl<'a> AppendRequest<'a> {
    /// A record that changes no list row and settles nothing.
    pub fn new(log: &'a LogId, sealed: &'a Sealed) -> Self {
        Self { log, sealed, summary: None, settles_draft: None, settles_intent: false }
    }
}

impl Store {
    /// Adds a record to its log in one transaction; when it returns, the record survives a loss of power.
    ///
    /// Record, leaf, tree, disclosures, photo references, list row and search words commit together or not at all.
    ///
    /// # Errors
    /// [`StoreError::Fork`], [`StoreError::Gap`] or [`StoreError::AlreadyKept`] when the record doesn't continue the
    /// log; [`StoreError::Misfit`] when it contradicts the request; [`StoreError::OriginalMissing`] when it names a
    /// photo that isn't kept; [`StoreError::LogDamaged`]; [`StoreError::DiskFull`] and those of the database.
    pub fn append(&self, request: &AppendRequest<'_>) -> Result<LogHead, StoreError> {
        let record = fitting_record(request)?;
        self.require_originals(&record)?;
        self.transact(|transaction| {
            let state = LogState::find(transaction, request.log)?;
            self.require_sound(request.log, state.as_ref())?;
            require_next(transaction, request, &record, state.as_ref())?;
            let head = keep_record(transaction, request, &record, state.as_ref())?;
            settle(transaction, request)?;
            Ok(head)
        })
    }

    fn require_originals(&self, record: &Record) -> Result<(), StoreError> {
        let missing = |photo: &&PhotoRef| self.original_bytes(&photo.sha256) != Some(photo.bytes);
        match record.photos.iter().find(missing) {
            Some(photo) => Err(StoreError::OriginalMissing { digest: photo.sha256 }),
            None => Ok(()),
        }
    }

    pub(crate) fn require_sound(&self, log: &LogId, state: Option<&LogState>) -> Result<(), StoreError> {
        match state {
            Some(state) if self.damaged.contains(&state.log) => {
                Err(StoreError::LogDamaged { log: log.origin() })
            }
            _ => Ok(()),
        }
    }
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

fn require_next(
    transaction: &Transaction<'_>,
    request: &AppendRequest<'_>,
    record: &Record,
    state: Option<&LogState>,
) -> Result<(), StoreError> {
    let (expected, last) = state.map_or((0, None), |state| (state.size, Some(&state.last)));
    let (log, sequence) = (request.log.origin(), record.sequence);
    if sequence > expected {
        return Err(StoreError::Gap { log, sequence, expected });
    }
    if let Some(state) = state.filter(|_| sequence < expected) {
        let same = leaf_at(transaction, state.log, sequence)? == request.sealed.leaf;
        return Err(if same {
            StoreError::AlreadyKept { log, sequence }
        } else {
            StoreError::Fork { log, sequence }
        });
    }
    if record.previous.as_ref() == last { Ok(()) } else { Err(StoreError::Fork { log, sequence }) }
}

fn leaf_at(transaction: &Transaction<'_>, log: i64, sequence: u64) -> Result<Digest, StoreError> {
    let leaf = "SELECT leaf FROM leaves WHERE log = ? AND sequence = ?";
    Ok(transaction.prepare_cached(leaf)?.query_row((log, sequence), |row| crate::log::digest(row, 0))?)
}

fn keep_record(
    transaction: &Transaction<'_>,
    request: &AppendRequest<'_>,
    record: &Record,
    state: Option<&LogState>,
) -> Result<LogHead, StoreError> {
    let log = advance(transaction, request, state)?;
    let (sequence, sealed) = (record.sequence, request.sealed);
    let leaf = "INSERT INTO leaves (log, sequence, leaf) VALUES (?, ?, ?)";
    transaction.prepare_cached(leaf)?.execute((log, sequence, sealed.leaf.0))?;
    let row: i64 = transaction.prepare_cached(include_str!("sql/record_insert.sql"))?.query_row(
        named_params! { ":log": log, ":sequence": sequence, ":kind": record.kind, ":wall": record.wall,
        ":bytes": sealed.bytes },
        |row| row.get(0),
    )?;
    keep_disclosures(transaction, row, sealed)?;
    keep_photos(transaction, row, record)?;
    match request.summary {
        Some(summary) => jobs::put(transaction, row, summary)?,
        None => jobs::touch(transaction, row, &record.job)?,
    }
    Ok(sealed.head())
}

/// Writes the tree as it is with this leaf added; returns the log's row.
fn advance(
    transaction: &Transaction<'_>,
    request: &AppendRequest<'_>,
    state: Option<&LogState>,
) -> Result<i64, StoreError> {
    let damaged = || StoreError::LogDamaged { log: request.log.origin() };
    let mut frontier = state.map_or(Some(Frontier::default()), LogState::frontier).ok_or_else(damaged)?;
    frontier.push(request.sealed.leaf);
    let LogId { shop, job, device } = request.log;
    let log = transaction.prepare_cached(include_str!("sql/log_advance.sql"))?.query_row(
        named_params! { ":shop": shop, ":job": job, ":device": device, ":size": frontier.size(),
        ":last_leaf": request.sealed.leaf.0, ":root": frontier.root().0, ":frontier": frontier_bytes(&frontier) },
        |row| row.get(0),
    )?;
    Ok(log)
}

fn keep_disclosures(transaction: &Transaction<'_>, row: i64, sealed: &Sealed) -> Result<(), StoreError> {
    let insert = "INSERT INTO disclosures (record, position, encoded) VALUES (?, ?, ?)";
    let mut statement = transaction.prepare_cached(insert)?;
    for (disclosure, position) in sealed.disclosures.iter().zip(0i64..) {
        statement.execute((row, position, disclosure.encoded()))?;
    }
    Ok(())
}

fn keep_photos(transaction: &Transaction<'_>, row: i64, record: &Record) -> Result<(), StoreError> {
    let mut statement = transaction.prepare_cached(include_str!("sql/photo_insert.sql"))?;
    for (photo, position) in record.photos.iter().zip(0i64..) {
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
    Ok(())
}
