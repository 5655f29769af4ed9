//! Jobs: opening, the list.

use crate::entry::JobsEntry;
use crate::view::{JobView, JobsView, TimelineEntry};
use crate::{ApiError, Workshop};
use job::event::JobOpened;
use job::{Event, Stage, Waiting};
use store::JobMark;

/// Rows of one page of the list.
const PAGE: u32 = 50;
/// Most rows of a page: a list that was left far down comes back in few of them.
const LARGEST_PAGE: u32 = 1_000;
/// What filters begin with.
const WAITING: &str = "waiting_";
const STAGE: &str = "stage_";

impl Workshop {
    /// Opens a new job.
    ///
    /// # Errors
    /// The shop is not set up.
    pub fn job_open(&self) -> Result<JobView, ApiError> {
        let shop = self.shop()?;
        // The public half is enough: a job can begin while the key is locked.
        let key = self.public_key(&shop.device_id)?.ok_or_else(|| ApiError::refused("key_is_lost"))?;
        let fingerprint = key.fingerprint()?;
        self.begin(|| {
            let number = self.store.next_job_number()?;
            let event = Event::JobOpened(JobOpened {
                number: u32::try_from(number).unwrap_or(u32::MAX),
                shop: shop.name,
                registration: shop.registration,
                region: shop.region,
                technician: shop.technician,
                fingerprint: fingerprint.to_string(),
            });
            Ok((uuid::Uuid::now_v7().to_string(), event))
        })
    }

    /// Everything of a job, computed from its records.
    ///
    /// # Errors
    /// An unknown job, a store that can't be read.
    pub fn job_view(&self, id: &str) -> Result<JobView, ApiError> {
        let loaded = self.load(id)?;
        self.show_job(&loaded)
    }

    /// The id of the job with a running number.
    ///
    /// # Errors
    /// No such job.
    pub fn job_of_number(&self, number: u32) -> Result<String, ApiError> {
        let unknown = || ApiError::Unknown { what: "job", value: number.to_string() };
        self.store.job_of_number(u64::from(number))?.ok_or_else(unknown)
    }

    /// Jobs that hold every word of the query, newest first, all when it is empty, narrowed to a stage or to those that
    /// wait for something. One page: the first when `after` is empty, else the one after the page whose `next` it is.
    ///
    /// # Errors
    /// A filter nobody knows, an `after` that no page gave; a store that can't be read.
    pub fn jobs_search(&self, asked: &JobsEntry) -> Result<JobsView, ApiError> {
        let place =
            |text: &str| text.parse().map_err(|_| ApiError::Unknown { what: "page", value: text.to_owned() });
        let after = Some(asked.after.as_str()).filter(|text| !text.is_empty()).map(place).transpose()?;
        let rows = if asked.rows == 0 { PAGE } else { asked.rows.min(LARGEST_PAGE) };
        let page = self.store.jobs_with(mark(&asked.filter)?, &asked.query, rows, after)?;
        Ok(JobsView {
            rows: page.rows.into_iter().map(crate::show::row).collect(),
            left: page.left,
            more_than_left: page.left == store::COUNTED,
            next: page.next.map(|place| place.to_string()).unwrap_or_default(),
            filters: filters(),
        })
    }

    /// A page of a job's time-line, oldest first: the lines before a place.
    ///
    /// # Errors
    /// An unknown job, a store that can't be read.
    pub fn timeline_page(&self, job: &str, before: u32) -> Result<Vec<TimelineEntry>, ApiError> {
        Ok(crate::show::timeline(&self.load(job)?.job, Some(before)))
    }
}

/// Everything the list can be narrowed to: first whose turn it is, then how far the work is.
fn filters() -> Vec<String> {
    let waiting = Waiting::ALL.into_iter().map(|waiting| format!("{WAITING}{}", waiting.code()));
    waiting.chain(Stage::ALL.into_iter().map(|stage| format!("{STAGE}{}", stage.code()))).collect()
}

fn mark(filter: &str) -> Result<Option<JobMark<'_>>, ApiError> {
    if filter.is_empty() {
        return Ok(None);
    }
    if !filters().iter().any(|known| known == filter) {
        return Err(ApiError::Unknown { what: "filter", value: filter.to_owned() });
    }
    let waiting = filter.strip_prefix(WAITING).map(JobMark::Waiting);
    Ok(waiting.or_else(|| filter.strip_prefix(STAGE).map(JobMark::Stage)))
}
