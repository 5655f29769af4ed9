//! Jobs: opening, the list.

use crate::view::{JobView, JobsView, TimelineEntry};
use crate::{ApiError, Workshop};
use job::Event;
use job::event::JobOpened;

/// Rows of one page of the list.
const PAGE: u32 = 50;

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

    /// Jobs that hold every word of the query, newest first, all when it is empty. One page: the first when `after` is
    /// empty, else the one after the page whose `next` it is.
    ///
    /// # Errors
    /// An `after` that no page gave; a store that can't be read.
    pub fn jobs_search(&self, query: &str, after: &str) -> Result<JobsView, ApiError> {
        let place =
            |text: &str| text.parse().map_err(|_| ApiError::Unknown { what: "page", value: text.to_owned() });
        let after = Some(after).filter(|text| !text.is_empty()).map(place).transpose()?;
        let page = self.store.jobs(query, PAGE, after)?;
        Ok(JobsView {
            rows: page.rows.into_iter().map(crate::show::row).collect(),
            left: page.left,
            more_than_left: page.left == store::COUNTED,
            next: page.next.map(|place| place.to_string()).unwrap_or_default(),
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
