//! The shop's own closed jobs: how often which cause was the proven one.

use crate::{ApiError, Workshop};
use job::{Job, ProvenCause, Stage};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What the list row of a job remembers of it, so that a thousand jobs needn't be read again.
#[derive(Serialize, Deserialize)]
struct Cached {
    proven: Option<ProvenCause>,
}

/// The cache of a job's list row.
pub(crate) fn cached(job: &Job) -> Vec<u8> {
    serde_json::to_vec(&Cached { proven: ProvenCause::of(job) }).unwrap_or_default()
}

impl Workshop {
    /// Cause id → how often it was proven in a closed job with this circuit. The job itself is left out: it must not
    /// vouch for its own cause.
    pub(crate) fn closed_jobs(&self, circuit: &str, but: &str) -> Result<BTreeMap<String, u32>, ApiError> {
        let mut counts = BTreeMap::new();
        for (job, cache) in self.store.fold_caches(Stage::HandedOver.code())? {
            let proven = if job == but { None } else { self.proven(&job, &cache)? };
            if let Some(proven) = proven.filter(|proven| proven.circuit == circuit) {
                let count: &mut u32 = counts.entry(proven.cause).or_default();
                *count = count.saturating_add(1);
            }
        }
        Ok(counts)
    }

    /// From the list row; a row written before rows remembered it is made up for from the records, once.
    fn proven(&self, job: &str, cache: &[u8]) -> Result<Option<ProvenCause>, ApiError> {
        if let Ok(cached) = serde_json::from_slice::<Cached>(cache) {
            return Ok(cached.proven);
        }
        // A job that can't be read teaches nothing; it must not shut the others.
        let Ok(loaded) = self.load(job) else { return Ok(None) };
        self.store.keep_summary(&crate::show::summary(job, &loaded.job))?;
        Ok(ProvenCause::of(&loaded.job))
    }
}
