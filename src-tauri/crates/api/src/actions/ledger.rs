//! The ledger of the whole shop, computed from the records of all its jobs.

use crate::{ApiError, Workshop};
use job::Job;
use job::rules;
use money::ledger::{Posting, journal};

/// The ledger in two forms.
pub struct Ledger {
    /// Plain-text journal, as hledger and programs like it read it.
    pub journal: String,
    /// CSV: one row a side of a movement.
    pub csv: String,
}

/// Rows of a page of jobs.
const PAGE: u32 = 500;

impl Workshop {
    /// The ledger of every job.
    ///
    /// # Errors
    /// A store that can't be read, sums that don't fit.
    pub fn ledger(&self) -> Result<Ledger, ApiError> {
        let jobs = self.all_jobs()?;
        self.ledger_of(&jobs)
    }

    /// In the currency of the shop's region; where that has none of its own, in the code for "no currency" (ISO 4217).
    pub(crate) fn ledger_of(&self, jobs: &[Job]) -> Result<Ledger, ApiError> {
        let mut postings: Vec<Posting> = Vec::new();
        for job in jobs {
            postings.extend(job.postings()?);
        }
        postings.sort_by(|a, b| a.day.cmp(&b.day));
        let region = self.shop().map(|shop| shop.region).unwrap_or_default();
        let currency = rules::of_region(&region).currency;
        let currency = if currency.is_empty() { "XXX" } else { currency.as_str() };
        Ok(Ledger {
            journal: journal::text(&postings, currency),
            csv: String::from_utf8_lossy(&report::ledger_csv(&postings)?).into_owned(),
        })
    }

    /// Every job, from its records.
    pub(crate) fn all_jobs(&self) -> Result<Vec<Job>, ApiError> {
        let mut jobs = Vec::new();
        let mut after = None;
        loop {
            let page = self.store.jobs("", PAGE, after)?;
            for row in page.rows {
                jobs.push(self.load_from_records(&row.job)?.job);
            }
            after = page.next;
            if after.is_none() {
                return Ok(jobs);
            }
        }
    }
}
