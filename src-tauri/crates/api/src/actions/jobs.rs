//! Jobs: opening, the list.

use crate::view::{JobView, JobsView};
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
        self.show_job(&self.load(id)?)
    }

    /// The id of the job with a running number.
    ///
    /// # Errors
    /// No such job.
    pub fn job_of_number(&self, number: u32) -> Result<String, ApiError> {
        let unknown = || ApiError::Unknown { what: "job", value: number.to_string() };
        self.store.job_of_number(u64::from(number))?.ok_or_else(unknown)
    }

    /// Jobs that hold every word of the query, newest first, all when it is empty; one page after the first `skip`.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn jobs_search(&self, query: &str, skip: u32) -> Result<JobsView, ApiError> {
        let rows = self.store.jobs(query, PAGE, skip)?;
        Ok(JobsView {
            rows: rows.into_iter().map(crate::show::row).collect(),
            total: u32::try_from(self.store.jobs_count(query)?).unwrap_or(u32::MAX),
        })
    }
}
