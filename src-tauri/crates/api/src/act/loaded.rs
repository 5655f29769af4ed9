//! A job as it was loaded, with its own log.

use crate::{ApiError, Workshop};
use evidence::{Digest, Disclosure, LogId, Record, Sealed};
use job::{Job, KeptRecord};
use std::collections::BTreeMap;
use store::Standing;

/// A job as it was loaded, with its own log.
pub(crate) struct Loaded {
    pub log: LogId,
    pub job: Job,
    /// The record kept last.
    last: Option<Record>,
}

impl Loaded {
    /// A job before its first record.
    pub fn blank(log: LogId) -> Loaded {
        Loaded { log, job: Job::default(), last: None }
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
                Ok(())
            }
        }
    }
}

impl Workshop {
    /// Reads a job back from its records.
    ///
    /// # Errors
    /// An unknown job, a store that can't be read. A record that can't be used is no error: the job says which.
    pub(crate) fn load(&self, job: &str) -> Result<Loaded, ApiError> {
        let log = self.log(job)?;
        let (folded, last) = self.fold(job, None)?;
        self.notice_findings();
        if folded.timeline.is_empty() {
            return Err(ApiError::Unknown { what: "job", value: job.to_owned() });
        }
        Ok(Loaded { log, job: folded, last })
    }

    /// The job as somebody knows it who was given these values only.
    pub(crate) fn fold_with(&self, job: &str, values: Vec<Disclosure>) -> Result<Job, ApiError> {
        Ok(self.fold(job, Some(values))?.0)
    }

    /// With the values given, or all that are here. Records are read first: reading them mends values that were changed.
    fn fold(&self, job: &str, values: Option<Vec<Disclosure>>) -> Result<(Job, Option<Record>), ApiError> {
        let records = self.store.job_records(job)?;
        let disclosures = by_digest(values.map_or_else(|| self.store.disclosures(job), Ok)?);
        let (mut folded, mut last) = (Job::default(), None);
        for stored in records {
            if stored.standing == Standing::Damaged {
                let why = "its bytes are not those that were kept";
                folded.add_unreadable(stored.leaf, &stored.device, stored.sequence, why);
                continue;
            }
            if stored.standing == Standing::NotVouched
                && let Ok(record) = Record::parse(&stored.bytes)
            {
                folded.add_not_vouched(stored.leaf, &record);
                continue;
            }
            match opened(&stored.bytes, stored.leaf, &disclosures) {
                Ok(kept) => {
                    folded.add(&kept, last.as_ref());
                    last = Some(kept.record);
                }
                Err(error) => {
                    folded.add_unreadable(stored.leaf, &stored.device, stored.sequence, &error.to_string());
                }
            }
        }
        Ok((folded, last))
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
