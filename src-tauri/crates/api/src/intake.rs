//! Jobs: opening, intake, list, drafts.

use crate::entry::IntakeEntry;
use crate::view::{JobRow, JobView, Verdict, VinView};
use crate::{ApiError, Workshop, typed};
use job::Event;
use job::event::{IntakeKept, JobOpened};
use job::vin::Vin;
use std::collections::BTreeMap;

/// How many jobs a list shows at most; a search narrows it.
const LIST: u32 = 200;

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
        let number = self.store.next_job_number()?;
        let job = uuid::Uuid::now_v7().to_string();
        let event = Event::JobOpened(JobOpened {
            number: u32::try_from(number).unwrap_or(u32::MAX),
            shop: shop.name,
            registration: shop.registration,
            region: shop.region,
            technician: shop.technician,
            fingerprint: fingerprint.to_string(),
        });
        self.keep(&job, &event)?;
        self.job_view(&job)
    }

    /// Keeps the fields of the intake that were just entered. Fields that say what they said before are not kept again.
    ///
    /// # Errors
    /// A VIN that can't be (the error names the position), a text that is too long.
    pub fn intake_keep(&self, job: &str, entry: &IntakeEntry) -> Result<JobView, ApiError> {
        let now = self.load(job)?.job.intake;
        let vin = changed(vin(entry.vin.as_deref())?, &now.vin);
        let kept = IntakeKept {
            vin_start: changed(vin.as_deref().map(vin_start), &now.vin_start),
            vin,
            plate: changed(typed_text("plate", &entry.plate)?, &now.plate),
            make: changed(typed_text("make", &entry.make)?, &now.make),
            model: changed(typed_text("model", &entry.model)?, &now.model),
            year: changed(typed_text("year", &entry.year)?, &now.year),
            odometer: changed(odometer(entry.odometer.as_deref())?, &now.odometer),
            odometer_unit: changed(odometer_unit(entry.odometer_unit.as_deref())?, &now.odometer_unit),
            complaint: changed(typed_text("complaint", &entry.complaint)?, &now.complaint),
            customer: changed(typed_text("customer", &entry.customer)?, &now.customer),
            phone: changed(typed_text("phone", &entry.phone)?, &now.phone),
            email: changed(typed_text("email", &entry.email)?, &now.email),
            approver: changed(typed_text("approver", &entry.approver)?, &now.approver),
        };
        if kept != IntakeKept::default() {
            self.keep_and_settle(job, &Event::IntakeKept(kept), Some("intake"))?;
        }
        self.job_view(job)
    }

    /// What is said of a VIN while it is typed; nothing is kept.
    pub fn vin_check(&self, text: &str) -> VinView {
        match Vin::parse(text) {
            Ok(vin) => VinView {
                vin: vin.to_string(),
                verdict: Verdict { allowed: true, ..Verdict::default() },
                position: 0,
                model_year: vin.model_year().map(|m| m.year.to_string()).unwrap_or_default(),
            },
            Err(error) => VinView {
                vin: text.to_uppercase(),
                verdict: Verdict {
                    allowed: false,
                    reason: error.code().to_owned(),
                    values: BTreeMap::from([("detail".to_owned(), error.to_string())]),
                },
                position: error.position().and_then(|p| u32::try_from(p).ok()).unwrap_or(0),
                model_year: String::new(),
            },
        }
    }

    /// Jobs that hold every word of the query, newest first; all when it is empty.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn jobs_search(&self, query: &str) -> Result<Vec<JobRow>, ApiError> {
        Ok(self.store.jobs(query, LIST, 0)?.into_iter().map(crate::show::row).collect())
    }

    /// Keeps a form as it stands, before anything of it becomes a record.
    ///
    /// # Errors
    /// A store that can't be written to.
    pub fn draft_keep(&self, job: &str, form: &str, text: &str) -> Result<(), ApiError> {
        let text = serde_json::Value::String(text.to_owned());
        Ok(self.store.keep_draft(job, form, &text)?)
    }

    /// The form as it stood; empty when there is none.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn draft_view(&self, job: &str, form: &str) -> Result<String, ApiError> {
        let draft = self.store.draft(job, form)?;
        Ok(draft.and_then(|value| value.as_str().map(str::to_owned)).unwrap_or_default())
    }
}

fn changed(entered: Option<String>, now: &Option<String>) -> Option<String> {
    entered.filter(|value| now.as_deref().unwrap_or_default() != value)
}

/// What of a VIN names no single vehicle: all before the serial number.
fn vin_start(vin: &str) -> String {
    vin.chars().take(11).collect()
}

fn typed_text(field: &'static str, entered: &Option<String>) -> Result<Option<String>, ApiError> {
    entered.as_deref().map(|text| typed::text(field, text)).transpose()
}

fn vin(entered: Option<&str>) -> Result<Option<String>, ApiError> {
    let Some(text) = entered.map(str::trim) else { return Ok(None) };
    if text.is_empty() { Ok(Some(String::new())) } else { Ok(Some(Vin::parse(text)?.to_string())) }
}

/// Digits only; separators of thousands are dropped.
fn odometer(entered: Option<&str>) -> Result<Option<String>, ApiError> {
    let Some(text) = entered.map(str::trim) else { return Ok(None) };
    let digits: String = text.chars().filter(|c| !matches!(c, ',' | '.' | ' ' | '\'' | '\u{a0}')).collect();
    if digits.len() <= 9 && digits.bytes().all(|b| b.is_ascii_digit()) {
        Ok(Some(digits))
    } else {
        Err(ApiError::Unknown { what: "odometer", value: text.to_owned() })
    }
}

fn odometer_unit(entered: Option<&str>) -> Result<Option<String>, ApiError> {
    entered.map(|unit| typed::one_of("odometer_unit", unit, &["mi", "km"])).transpose()
}
