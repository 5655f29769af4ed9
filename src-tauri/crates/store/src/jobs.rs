use std::collections::BTreeMap;

use evidence::Digest;
use rusqlite::{Connection, OptionalExtension, Row, named_params};
use serde::{Deserialize, Serialize};

use crate::{Store, StoreError, log::digest, search};

/// A job as lists show it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct JobRow {
    /// The job's id.
    pub job: String,
    /// The shop's running number.
    pub number: u64,
    /// One line about it.
    pub title: String,
    /// The vehicle in words.
    pub vehicle: String,
    /// The customer's name.
    pub customer: String,
    /// Where the job stands.
    pub stage: String,
    /// What it waits for: codes with a space between them; empty when nothing.
    pub waiting: String,
    /// When it was opened (RFC 3339).
    pub opened: String,
    /// When its newest record was sealed (RFC 3339).
    pub changed: String,
}

/// Jobs after a page that are counted; counting on would take as long as showing them.
pub const COUNTED: u32 = 1_000;

/// A page of the list of jobs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct JobsPage {
    /// Rows, newest change first.
    pub rows: Vec<JobRow>,
    /// How many come after this page, counted up to [`COUNTED`].
    pub left: u32,
    /// Where the next page begins; nothing after the last one. A record that is kept meanwhile moves its own job to the
    /// top, and no other.
    pub next: Option<u64>,
}

/// The ends of a job's logs: whatever was folded of a job with the same ones, and not marked, is still the whole job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct JobHeads {
    /// Number of records and newest leaf of each log, by device.
    pub logs: BTreeMap<String, (u64, Digest)>,
    /// True when records or values came from elsewhere and the job is yet to be folded.
    pub to_fold: bool,
}

/// What the caller derives from a job's records with each append.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct JobSummary {
    /// The list row.
    pub row: JobRow,
    /// What else the job should be found by: plate, VIN, phone, complaint. The row's own words are found anyway.
    pub search_text: String,
    /// The folded job in whatever form its reader likes.
    pub cache: Vec<u8>,
    /// How many of the job's records the cache covers.
    pub cache_records: u64,
}

/// What the list of jobs can be narrowed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JobMark<'a> {
    /// Jobs of a stage.
    Stage(&'a str),
    /// Jobs that wait for something.
    Waiting(&'a str),
}

impl JobMark<'_> {
    /// As one word of the index: it reads letters and digits alone.
    fn word(self) -> String {
        let (kind, code) = match self {
            JobMark::Stage(code) => ("stage", code),
            JobMark::Waiting(code) => ("waits", code),
        };
        kind.chars().chain(code.chars().filter(char::is_ascii_alphanumeric)).collect()
    }
}

/// The columns of a [`JobRow`] in the order in which they are read.
macro_rules! row_of {
    () => {
        "SELECT job, number, title, vehicle, customer, stage, waiting, opened, changed FROM jobs"
    };
}

impl Store {
    /// Jobs whose words begin with every word of the query, newest change first; an empty query finds all. One page of at
    /// most `limit` rows: from the newest on, or from where the page before it ended ([`JobsPage::next`]).
    ///
    /// The query is whatever the user typed: nothing in it is read as an operator.
    ///
    /// # Errors
    /// Those of the database.
    pub fn jobs(&self, query: &str, limit: u32, after: Option<u64>) -> Result<JobsPage, StoreError> {
        self.jobs_with(None, query, limit, after)
    }

    /// The same among the jobs with a mark alone.
    ///
    /// # Errors
    /// Those of the database.
    pub fn jobs_with(
        &self,
        mark: Option<JobMark<'_>>,
        query: &str,
        limit: u32,
        after: Option<u64>,
    ) -> Result<JobsPage, StoreError> {
        let connection = self.database();
        // Rows come in the list's order, so that both searches end with the last row that is wanted.
        let (before, wanted) = (after.unwrap_or(i64::MAX.unsigned_abs()), limit.saturating_add(COUNTED));
        let typed = !query.trim().is_empty();
        let words = search::expression(query);
        if typed && words.is_none() {
            return Ok(JobsPage::default());
        }
        let narrowed = search::narrowed(words, mark.map(JobMark::word));
        let places: Vec<u64> = if let Some(expression) = narrowed {
            let mut statement = connection.prepare_cached(include_str!("sql/jobs_found.sql"))?;
            let names = named_params! { ":match": expression, ":limit": wanted, ":before": before };
            statement.query_map(names, |row| row.get(0))?.collect::<Result<_, _>>()?
        } else {
            let mut statement = connection.prepare_cached(include_str!("sql/jobs_newest.sql"))?;
            let names = named_params! { ":limit": wanted, ":before": before };
            statement.query_map(names, |row| row.get(0))?.collect::<Result<_, _>>()?
        };
        let find = concat!(row_of!(), " WHERE row = ?");
        let mut statement = connection.prepare_cached(find)?;
        let shown = places.iter().take(usize::try_from(limit).unwrap_or(usize::MAX));
        let rows = shown.map(|place| statement.query_row([place], read)).collect::<Result<Vec<_>, _>>()?;
        let left = u32::try_from(places.len().saturating_sub(rows.len())).unwrap_or(u32::MAX);
        let last = rows.len().checked_sub(1).and_then(|last| places.get(last)).copied();
        Ok(JobsPage { next: last.filter(|_| left > 0), rows, left })
    }

    /// One job's list row; `None` when there is none.
    ///
    /// # Errors
    /// Those of the database.
    pub fn job(&self, job: &str) -> Result<Option<JobRow>, StoreError> {
        let find = concat!(row_of!(), " WHERE job = ?");
        Ok(self.database().prepare_cached(find)?.query_row([job], read).optional()?)
    }

    /// One more than the largest job number so far; the first is 1.
    ///
    /// # Errors
    /// Those of the database.
    pub fn next_job_number(&self) -> Result<u64, StoreError> {
        let next = "SELECT coalesce(max(number), 0) + 1 FROM jobs";
        Ok(self.database().query_row(next, [], |row| row.get(0))?)
    }

    /// The id of the job with a running number; `None` when there is none.
    ///
    /// # Errors
    /// Those of the database.
    pub fn job_of_number(&self, number: u64) -> Result<Option<String>, StoreError> {
        let find = "SELECT job FROM jobs WHERE number = ?";
        Ok(self.database().prepare_cached(find)?.query_row([number], |row| row.get(0)).optional()?)
    }

    /// The folded jobs of a stage as they were kept with their newest summaries, by job.
    ///
    /// # Errors
    /// Those of the database.
    pub fn fold_caches(&self, stage: &str) -> Result<Vec<(String, Vec<u8>)>, StoreError> {
        let connection = self.database();
        let find = "SELECT job, cache FROM jobs WHERE stage = ? ORDER BY job";
        let mut statement = connection.prepare_cached(find)?;
        let caches = statement.query_map([stage], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(caches.collect::<Result<_, _>>()?)
    }

    /// The folded jobs of every stage as they were kept with their newest summaries, by job.
    ///
    /// # Errors
    /// Those of the database.
    pub fn all_fold_caches(&self) -> Result<Vec<(String, Vec<u8>)>, StoreError> {
        let connection = self.database();
        let mut statement = connection.prepare_cached("SELECT job, cache FROM jobs ORDER BY job")?;
        let caches = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(caches.collect::<Result<_, _>>()?)
    }

    /// The same of the jobs that were opened last, so many of them.
    ///
    /// # Errors
    /// Those of the database.
    pub fn newest_fold_caches(&self, most: u32) -> Result<Vec<(String, Vec<u8>)>, StoreError> {
        let connection = self.database();
        let find = "SELECT job, cache FROM jobs ORDER BY row DESC LIMIT ?";
        let mut statement = connection.prepare_cached(find)?;
        let caches = statement.query_map([most], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(caches.collect::<Result<_, _>>()?)
    }

    /// Jobs whose list row is missing or doesn't cover the newest records: after records came from elsewhere or were
    /// recovered. Fold each and give the summary to [`Store::keep_summary`].
    ///
    /// # Errors
    /// Those of the database.
    pub fn jobs_to_fold(&self) -> Result<Vec<String>, StoreError> {
        let connection = self.database();
        let mut statement = connection.prepare_cached(include_str!("sql/jobs_to_fold.sql"))?;
        let jobs = statement.query_map([], |row| row.get(0))?;
        Ok(jobs.collect::<Result<_, _>>()?)
    }

    /// The ends of a job's logs; empty for a job that isn't known.
    ///
    /// # Errors
    /// Those of the database.
    pub fn job_heads(&self, job: &str) -> Result<JobHeads, StoreError> {
        let connection = self.database();
        let find = "SELECT device, size, last_leaf FROM logs WHERE job = ?";
        let mut statement = connection.prepare_cached(find)?;
        let heads = statement.query_map([job], |row| Ok((row.get(0)?, (row.get(1)?, digest(row, 2)?))))?;
        let logs = heads.collect::<Result<_, _>>()?;
        let marked = "SELECT count(*) > 0 FROM jobs_to_fold WHERE job = ?";
        let to_fold = connection.prepare_cached(marked)?.query_row([job], |row| row.get(0))?;
        Ok(JobHeads { logs, to_fold })
    }

    /// Replaces a job's list row, words and cache, all of which are derived from records; for a job folded anew.
    ///
    /// # Errors
    /// [`StoreError::Misfit`] when the job has no records; those of the database.
    pub fn keep_summary(&self, summary: &JobSummary) -> Result<(), StoreError> {
        self.transact(|transaction| {
            let newest = "SELECT max(record) FROM records JOIN logs USING (log) WHERE job = ?";
            let record: Option<i64> = transaction.query_row(newest, [&summary.row.job], |row| row.get(0))?;
            let record =
                record.ok_or_else(|| StoreError::Misfit { why: "the job has no records".to_owned() })?;
            put(transaction, record, summary)
        })
    }
}

/// Writes the list row; triggers keep the search words in step.
pub(crate) fn put(
    connection: &Connection,
    newest_record: i64,
    summary: &JobSummary,
) -> Result<(), StoreError> {
    let JobRow { job, number, title, vehicle, customer, stage, waiting, opened, changed } = &summary.row;
    let words = search::words(&[&number.to_string(), title, vehicle, customer, &summary.search_text]);
    let values = named_params! {
        ":job": job, ":number": number, ":title": title, ":vehicle": vehicle, ":customer": customer,
        ":stage": stage, ":waiting": waiting, ":opened": opened, ":changed": changed,
        ":newest_record": newest_record, ":words": words, ":marks": marks(stage, waiting), ":cache": summary.cache, ":cache_records": summary.cache_records,
    };
    let updated = connection.prepare_cached(include_str!("sql/job_update.sql"))?.execute(values)?;
    if updated == 0 {
        connection.prepare_cached(include_str!("sql/job_insert.sql"))?.execute(values)?;
    }
    connection.prepare_cached("DELETE FROM jobs_to_fold WHERE job = ?")?.execute([job])?;
    Ok(())
}

/// Notes that a job's list row no longer covers all that is known of it.
pub(crate) fn mark_to_fold(connection: &Connection, job: &str) -> Result<(), StoreError> {
    let mark = "INSERT INTO jobs_to_fold (job) VALUES (?) ON CONFLICT DO NOTHING";
    connection.prepare_cached(mark)?.execute([job])?;
    Ok(())
}

/// Moves a job up in the list without a new summary.
pub(crate) fn touch(connection: &Connection, newest_record: i64, job: &str) -> Result<(), StoreError> {
    let values = named_params! { ":newest_record": newest_record, ":job": job };
    connection.prepare_cached(include_str!("sql/job_touch.sql"))?.execute(values)?;
    Ok(())
}

fn read(row: &Row<'_>) -> rusqlite::Result<JobRow> {
    Ok(JobRow {
        job: row.get(0)?,
        number: row.get(1)?,
        title: row.get(2)?,
        vehicle: row.get(3)?,
        customer: row.get(4)?,
        stage: row.get(5)?,
        waiting: row.get(6)?,
        opened: row.get(7)?,
        changed: row.get(8)?,
    })
}

/// What a job's row can be narrowed by.
fn marks(stage: &str, waiting: &str) -> String {
    let waits = waiting.split_whitespace().map(|code| JobMark::Waiting(code).word());
    std::iter::once(JobMark::Stage(stage).word()).chain(waits).collect::<Vec<_>>().join(" ")
}

/// Gives every row the words that its own text has today: another form may have come that people type.
pub(crate) fn reword(connection: &Connection) -> Result<(), StoreError> {
    let mut all = connection.prepare("SELECT row, words FROM jobs")?;
    let rows = all.query_map([], |row| Ok((row.get::<_, i64>(0)?, row.get::<_, String>(1)?)))?;
    for row in rows.collect::<Result<Vec<_>, _>>()? {
        let (place, before) = row;
        let words = search::again(&before);
        if words != before {
            connection.prepare_cached("UPDATE jobs SET words = ? WHERE row = ?")?.execute((words, place))?;
        }
    }
    Ok(())
}
