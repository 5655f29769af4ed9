//! The shop's own closed jobs: how often which cause was the proven one, and how programming went.

use crate::{ApiError, Workshop};
use job::event::ProgrammingRoute;
use job::routes::{AttemptSeen, RouteHistory};
use job::{Job, JobFacts, ProvenCause, Stage};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// What the list row of a job remembers of it, so that a thousand jobs needn't be read again. A row that lacks one of
/// these is of an older version, and is made anew from the records.
#[derive(Serialize, Deserialize)]
struct Cached {
    proven: Option<ProvenCause>,
    attempts: Vec<AttemptSeen>,
    facts: JobFacts,
}

impl Cached {
    fn of(job: &Job) -> Cached {
        Cached { proven: ProvenCause::of(job), attempts: AttemptSeen::of(job), facts: JobFacts::of(job) }
    }
}

/// The cache of a job's list row.
pub(crate) fn cached(job: &Job) -> Vec<u8> {
    serde_json::to_vec(&Cached::of(job)).unwrap_or_default()
}

/// What closed jobs taught, read from the list rows once and then kept in memory: an action must not go through
/// every job of the shop.
#[derive(Default)]
pub(crate) struct ClosedJobs {
    /// Nothing before somebody asks.
    known: Mutex<Option<Known>>,
}

#[derive(Default)]
struct Known {
    of_job: BTreeMap<String, ProvenCause>,
    counts: BTreeMap<ProvenCause, u32>,
    /// Attempts at programming, of jobs that had some.
    attempts: BTreeMap<String, Vec<AttemptSeen>>,
}

impl ClosedJobs {
    /// A job as it is after a record was kept in it.
    pub fn learn(&self, job: &str, folded: &Job) {
        if let Some(known) = self.known().as_mut() {
            known.set(job, Cached::of(folded));
        }
    }

    /// Drops everything: jobs came from elsewhere, or lost what they said.
    pub fn drop_all(&self) {
        *self.known() = None;
    }

    fn known(&self) -> MutexGuard<'_, Option<Known>> {
        self.known.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Known {
    fn set(&mut self, job: &str, Cached { proven, attempts, .. }: Cached) {
        if attempts.is_empty() {
            self.attempts.remove(job);
        } else {
            self.attempts.insert(job.to_owned(), attempts);
        }
        let before = match &proven {
            Some(proven) => self.of_job.insert(job.to_owned(), proven.clone()),
            None => self.of_job.remove(job),
        };
        if let Some(count) = before.as_ref().and_then(|before| self.counts.get_mut(before)) {
            *count = count.saturating_sub(1);
        }
        if let Some(proven) = proven {
            let count = self.counts.entry(proven).or_default();
            *count = count.saturating_add(1);
        }
    }

    fn counts(&self, circuit: &str, but: &str) -> BTreeMap<String, u32> {
        let own = self.of_job.get(but);
        let others = |(proven, count): (&ProvenCause, &u32)| {
            let others = count.saturating_sub(u32::from(own == Some(proven)));
            (others > 0).then(|| (proven.cause.clone(), others))
        };
        let first = ProvenCause { circuit: circuit.to_owned(), cause: String::new() };
        let of_circuit = self.counts.range(first..).take_while(|(proven, _)| proven.circuit == circuit);
        of_circuit.filter_map(others).collect()
    }
}

impl Workshop {
    /// Cause id → how often it was proven in a closed job with this circuit. The job itself is left out: it must not
    /// vouch for its own cause.
    pub(crate) fn closed_jobs(&self, circuit: &str, but: &str) -> Result<BTreeMap<String, u32>, ApiError> {
        self.with_closed_jobs(|known| known.counts(circuit, but))
    }

    /// How programming on a route went in the shop's closed jobs, the job itself left out.
    pub(crate) fn route_history(&self, route: ProgrammingRoute, but: &str) -> Result<RouteHistory, ApiError> {
        self.with_closed_jobs(|known| {
            let others = known.attempts.iter().filter(|(job, _)| job.as_str() != but);
            RouteHistory::of(route, others.map(|(_, attempts)| attempts))
        })
    }

    /// Id and facts of every job that can be read, open ones included. Figures are seldom asked for: the rows are read each
    /// time.
    pub(crate) fn all_facts(&self) -> Result<Vec<(String, JobFacts)>, ApiError> {
        self.facts_of(self.store.all_fold_caches()?)
    }

    /// Those of the jobs that were opened last, so many of them.
    pub(crate) fn newest_facts(&self, most: u32) -> Result<Vec<(String, JobFacts)>, ApiError> {
        self.facts_of(self.store.newest_fold_caches(most)?)
    }

    fn facts_of(&self, caches: Vec<(String, Vec<u8>)>) -> Result<Vec<(String, JobFacts)>, ApiError> {
        let mut all = Vec::new();
        for (job, cache) in caches {
            let remembered = self.remembered(&job, &cache)?;
            all.extend(remembered.map(|cached| (job, cached.facts)));
        }
        Ok(all)
    }

    fn with_closed_jobs<T>(&self, ask: impl FnOnce(&Known) -> T) -> Result<T, ApiError> {
        // Held while the rows are read: a job that is closed meanwhile waits to be learnt.
        let mut known = self.closed_jobs.known();
        if let Some(known) = known.as_ref() {
            return Ok(ask(known));
        }
        let mut all = Known::default();
        for (job, cache) in self.store.fold_caches(Stage::HandedOver.code())? {
            if let Some(cached) = self.remembered(&job, &cache)? {
                all.set(&job, cached);
            }
        }
        Ok(ask(known.insert(all)))
    }

    /// From the list row; a row written before rows remembered it is made up for from the records, once.
    fn remembered(&self, job: &str, cache: &[u8]) -> Result<Option<Cached>, ApiError> {
        if let Ok(cached) = serde_json::from_slice::<Cached>(cache) {
            return Ok(Some(cached));
        }
        // A job that can't be read teaches nothing; it must not shut the others.
        let Ok(loaded) = self.load_from_records(job) else { return Ok(None) };
        self.store.keep_summary(&crate::show::summary(job, &loaded.job))?;
        Ok(Some(Cached::of(&loaded.job)))
    }
}
