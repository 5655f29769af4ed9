//! From a cold handle on the data folder to the list of jobs: what the first screen waits for besides the window.

use crate::{Failure, median, program, shop};
use api::Workshop;
use api::entry::JobsEntry;

const JOBS: usize = 200;

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let (folder, workshop, _) = shop::open()?;
    for _ in 0..JOBS {
        workshop.job_open()?;
    }
    drop(workshop);
    let usable = median(5, || {
        let workshop = Workshop::open(folder.path())?;
        workshop.shop_view()?;
        workshop.jobs_search(&JobsEntry::of(""))?;
        Ok(())
    })?;
    let nothing = median(5, || program(&["true"]))?;
    Ok(vec![("start_to_list_ms", usable * 1e3), ("start_to_list_over_empty_process", usable / nothing)])
}
