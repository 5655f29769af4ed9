//! A job as it was loaded, with its own log.

use crate::{ApiError, Workshop};
use evidence::{Digest, Disclosure, LogId, Record, Sealed};
use job::{Job, KeptRecord};
use std::collections::BTreeMap;
use std::sync::Arc;
use store::{Standing, StoredRecord};

/// A job as it was loaded, with its own log.
#[derive(Clone)]
pub(crate) struct Loaded {
    pub log: LogId,
    pub job: Job,
    /// The record kept last.
    last: Option<Record>,
    /// Number of records and newest leaf of each log, by device, as far as they were folded.
    pub(super) ends: BTreeMap<String, (u64, Digest)>,
    /// How often kept folds had been dropped when its records were read.
    pub(super) drops: u64,
}

impl Loaded {
    /// A job before its first record.
    pub fn blank(log: LogId, drops: u64) -> Loaded {
        Loaded { log, job: Job::default(), last: None, ends: BTreeMap::new(), drops }
    }

    /// How many records the job has, over all its logs.
    pub fn records(&self) -> u64 {
        u64::try_from(self.job.timeline.len()).unwrap_or(u64::MAX)
    }

    /// A form that was filled in on an older state is refused: what it says may no longer be so.
    pub fn require_unmoved(&self, expected: Option<u32>) -> Result<(), ApiError> {
        match expected {
            Some(expected) if u64::from(expected) != self.records() => Err(ApiError::refused("job_moved")),
            _ => Ok(()),
        }
    }

    /// Folds a record that was just sealed.
    pub fn add(&mut self, sealed: &Sealed) -> Result<(), ApiError> {
        let kept = opened(&sealed.bytes, sealed.leaf, &by_digest(sealed.disclosures.clone()))?;
        self.job.add(&kept, self.last.as_ref());
        match self.job.timeline.last() {
            Some(entry) if entry.event.is_none() => Err(ApiError::Unreadable(entry.unusable.clone())),
            _ => {
                self.last = Some(kept.record);
                self.ends.insert(self.log.device.clone(), (sealed.head().size, sealed.leaf));
                Ok(())
            }
        }
    }

    /// Folds what is kept of the next record. One that can't be used is no error: the job says which.
    fn add_stored(&mut self, stored: &StoredRecord, disclosures: &BTreeMap<Digest, Disclosure>) {
        let unreadable = |job: &mut Job, why: &str| {
            job.add_unreadable(stored.leaf, &stored.device, stored.sequence, why);
        };
        let not_vouched =
            Record::parse(&stored.bytes).ok().filter(|_| stored.standing == Standing::NotVouched);
        match (stored.standing, not_vouched) {
            (Standing::Damaged, _) => unreadable(&mut self.job, "its bytes are not those that were kept"),
            (_, Some(record)) => self.job.add_not_vouched(stored.leaf, &record),
            _ => match opened(&stored.bytes, stored.leaf, disclosures) {
                Ok(kept) => {
                    self.job.add(&kept, self.last.as_ref());
                    self.last = Some(kept.record);
                }
                Err(error) => unreadable(&mut self.job, &error.to_string()),
            },
        }
        self.ends.insert(stored.device.clone(), (stored.sequence.saturating_add(1), stored.leaf));
    }
}

impl Workshop {
    /// A job for looking at, from memory or from its records.
    ///
    /// # Errors
    /// An unknown job, a store that can't be read. A record that can't be used is no error: the job says which.
    pub(crate) fn load(&self, job: &str) -> Result<Arc<Loaded>, ApiError> {
        if let Some(kept) = self.folds.get(job, &self.store.job_heads(job)?) {
            return Ok(kept);
        }
        let loaded = Arc::new(self.load_from_records(job)?);
        self.folds.keep(&loaded);
        Ok(loaded)
    }

    /// A job for changing: the caller holds the turn, and gives it to [`Workshop::keep_fold`] once everything is kept.
    ///
    /// # Errors
    /// As [`Workshop::load`].
    pub(crate) fn load_to_change(&self, job: &str) -> Result<Loaded, ApiError> {
        match self.folds.take(job, &self.store.job_heads(job)?) {
            Some(loaded) => Ok(loaded),
            None => self.load_from_records(job),
        }
    }

    /// Keeps a job as it is now in memory.
    pub(crate) fn keep_fold(&self, loaded: Loaded) -> Arc<Loaded> {
        let loaded = Arc::new(loaded);
        self.folds.keep(&loaded);
        loaded
    }

    /// Reads a job back from its records. Reading mends what was changed on disk, and says so.
    ///
    /// # Errors
    /// As [`Workshop::load`].
    pub(crate) fn load_from_records(&self, job: &str) -> Result<Loaded, ApiError> {
        let drops = self.folds.drops();
        let loaded = self.fold(job, None, drops)?;
        self.notice_findings();
        if loaded.job.timeline.is_empty() {
            return Err(ApiError::Unknown { what: "job", value: job.to_owned() });
        }
        Ok(loaded)
    }

    /// The job as somebody knows it who was given these values only.
    pub(crate) fn fold_with(&self, job: &str, values: Vec<Disclosure>) -> Result<Job, ApiError> {
        Ok(self.fold(job, Some(values), self.folds.drops())?.job)
    }

    /// With the values given, or all that are here. Records are read first: reading them mends values that were changed.
    fn fold(&self, job: &str, values: Option<Vec<Disclosure>>, drops: u64) -> Result<Loaded, ApiError> {
        let records = self.store.job_records(job)?;
        let disclosures = by_digest(values.map_or_else(|| self.store.disclosures(job), Ok)?);
        let mut loaded = Loaded::blank(self.log(job)?, drops);
        for stored in records {
            loaded.add_stored(&stored, &disclosures);
        }
        Ok(loaded)
    }

    /// This device's log of a job.
    pub(crate) fn log(&self, job: &str) -> Result<LogId, ApiError> {
        let shop = self.shop()?;
        Ok(LogId { shop: shop.shop_id, job: job.to_owned(), device: shop.device_id })
    }
}

fn by_digest(disclosures: Vec<Disclosure>) -> BTreeMap<Digest, Disclosure> {
    disclosures.into_iter().map(|disclosure| (disclosure.digest(), disclosure)).collect()
}

/// A record with those of its withheld values that are at hand.
fn opened(
    bytes: &[u8],
    leaf: Digest,
    disclosures: &BTreeMap<Digest, Disclosure>,
) -> Result<KeptRecord, ApiError> {
    let record = Record::parse(bytes)?;
    let known = record.withheld.iter().filter_map(|digest| disclosures.get(digest));
    let opened = known.map(|d| (d.name().to_owned(), d.value().clone())).collect();
    Ok(KeptRecord { leaf, record, opened })
}
