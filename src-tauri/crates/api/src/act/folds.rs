//! The last few jobs as they were folded, kept in memory: one more record is added to the fold that is there, instead of
//! folding thousands anew.
//!
//! A kept fold is used only while the ends of all logs of its job are those it was folded to, and nothing of the job
//! waits to be folded. Whoever changes a job takes its fold out and puts it back once the record is kept: after any
//! error there is none, and the next one who asks reads the records.

use super::Loaded;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use store::JobHeads;

/// Jobs kept; a technician goes back and forth between few.
const JOBS: usize = 4;
/// Records kept over all jobs. One job alone may have more.
const RECORDS: u64 = 50_000;

/// The folds, newest use first.
#[derive(Default)]
pub(crate) struct Folds {
    kept: Mutex<Kept>,
}

#[derive(Default)]
struct Kept {
    /// Counts how often everything was dropped: what was read before may be gone or changed.
    drops: u64,
    folds: Vec<Arc<Loaded>>,
}

impl Folds {
    /// To be asked before records are read, and given back with their fold.
    pub fn drops(&self) -> u64 {
        self.kept().drops
    }

    /// The fold of a job for looking at.
    pub fn get(&self, job: &str, heads: &JobHeads) -> Option<Arc<Loaded>> {
        let mut kept = self.kept();
        let loaded = kept.take(job, heads)?;
        kept.folds.insert(0, Arc::clone(&loaded));
        Some(loaded)
    }

    /// The fold of a job for changing: it is no longer kept.
    pub fn take(&self, job: &str, heads: &JobHeads) -> Option<Loaded> {
        let taken = self.kept().take(job, heads)?;
        // Somebody may be looking at it just now.
        Some(Arc::try_unwrap(taken).unwrap_or_else(|shared| (*shared).clone()))
    }

    /// Keeps a fold that says what the records say.
    pub fn keep(&self, loaded: &Arc<Loaded>) {
        let mut kept = self.kept();
        if loaded.drops != kept.drops {
            return;
        }
        kept.folds.retain(|known| known.log.job != loaded.log.job);
        kept.folds.insert(0, Arc::clone(loaded));
        let mut records = 0_u64;
        let fits = |place: usize, fold: &Arc<Loaded>, records: &mut u64| {
            *records = records.saturating_add(fold.records());
            place == 0 || (place < JOBS && *records <= RECORDS)
        };
        let fitting =
            kept.folds.iter().enumerate().take_while(|(place, fold)| fits(*place, fold, &mut records));
        let fitting = fitting.count();
        kept.folds.truncate(fitting);
    }

    /// Drops everything: values were destroyed, or came from elsewhere.
    pub fn drop_all(&self) {
        let mut kept = self.kept();
        kept.drops = kept.drops.saturating_add(1);
        kept.folds.clear();
    }

    fn kept(&self) -> MutexGuard<'_, Kept> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Kept {
    /// Takes out a job's fold; one that is no longer the whole job is dropped.
    fn take(&mut self, job: &str, heads: &JobHeads) -> Option<Arc<Loaded>> {
        let place = self.folds.iter().position(|fold| fold.log.job == job)?;
        let fold = self.folds.remove(place);
        (!heads.to_fold && fold.ends == heads.logs).then_some(fold)
    }
}
