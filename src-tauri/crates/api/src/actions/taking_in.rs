//! Records that nobody signed for when they were sealed: kept apart until their owner takes them in as what they are.

use crate::act::Settles;
use crate::view::JobView;
use crate::{ApiError, Workshop};
use job::Event;
use job::event::RecordsTakenIn;

impl Workshop {
    /// Takes in the records at the end of this device's log of a job that nobody signed for. They count from here on, and
    /// the record says since when; every later signature covers them.
    ///
    /// # Errors
    /// `nothing_to_take_in`; a locked or lost key; a store that can't be written to.
    pub fn records_take_in(&self, job: &str) -> Result<JobView, ApiError> {
        let _turn = self.store.turn();
        let mut loaded = self.load_to_change(job)?;
        let first = self.store.first_not_vouched(&loaded.log)?;
        let first = first.ok_or_else(|| ApiError::refused("nothing_to_take_in"))?;
        let leaves = self.store.leaves(&loaded.log)?;
        let last = leaves.last().copied().ok_or_else(|| ApiError::refused("nothing_to_take_in"))?;
        let count = (leaves.len() as u64).saturating_sub(first);
        let small = |count: u64| u32::try_from(count).unwrap_or(u32::MAX);
        let taken = Event::RecordsTakenIn(RecordsTakenIn { first: small(first), count: small(count), last });
        self.admit(&mut loaded, &taken, &Settles::default())?;
        // What was taken in counts now: the job is read anew.
        let loaded = self.keep_fold(self.load_from_records(job)?);
        self.store.keep_summary(&crate::show::summary(job, &loaded.job))?;
        self.show_job(&loaded)
    }
}
