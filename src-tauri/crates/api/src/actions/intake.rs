//! The intake: the vehicle, the customer, the complaint.

use crate::entry::{Form, IntakeEntry};
use crate::view::{JobView, Verdict, VinView};
use crate::{ApiError, Workshop, typed};
use job::Event;
use job::event::IntakeKept;
use job::vin::Vin;
use std::collections::BTreeMap;

impl Workshop {
    /// Keeps the fields of the intake that were just entered. Fields that say what they said before are not kept again.
    ///
    /// # Errors
    /// A VIN that can't be (the error names the position), a text that is too long.
    pub fn intake_keep(&self, form: impl Into<Form>, entry: &IntakeEntry) -> Result<JobView, ApiError> {
        self.act_unless_same(&form.into(), |loaded| {
            let kept = news(entry, &loaded.job.intake)?;
            Ok((kept != IntakeKept::default()).then_some(Event::IntakeKept(kept)))
        })
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
}

/// What an entry says that the job doesn't say already.
fn news(entry: &IntakeEntry, now: &IntakeKept) -> Result<IntakeKept, ApiError> {
    let vin = changed(vin(entry.vin.as_deref())?, &now.vin);
    Ok(IntakeKept {
        vin_start: changed(vin.as_deref().map(vin_start), &now.vin_start),
        vin,
        plate: changed(typed_text("plate", &entry.plate)?, &now.plate),
        make: changed(typed_text("make", &entry.make)?, &now.make),
        model: changed(typed_text("model", &entry.model)?, &now.model),
        year: changed(typed_text("year", &entry.year)?, &now.year),
        odometer: changed(odometer(entry.odometer.as_deref())?, &now.odometer),
        odometer_unit: entry.odometer_unit.filter(|unit| now.odometer_unit != Some(*unit)),
        complaint: changed(typed_text("complaint", &entry.complaint)?, &now.complaint),
        customer: changed(typed_text("customer", &entry.customer)?, &now.customer),
        phone: changed(typed_text("phone", &entry.phone)?, &now.phone),
        email: changed(typed_text("email", &entry.email)?, &now.email),
        approver: changed(typed_text("approver", &entry.approver)?, &now.approver),
    })
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
        Err(ApiError::Refused(job::Refused::because("odometer_digits").with("value", text)))
    }
}
