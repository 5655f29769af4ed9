//! From a job to what the screen shows. Nothing is decided here: verdicts come from `job`, results from `circuit`.

mod agreed;
mod backup;
mod bills;
mod cause;
mod circuit;
mod connector;
mod diagnosis;
mod grounds;
mod job;
mod job_photo;
mod money;
mod number;
mod photo;
mod programming;
mod public_record;
mod reading;
mod request;
mod shared_value;
mod steps;
mod test_or_buy;
mod timeline;
mod verification;
mod whole_job;

pub(crate) use agreed::{approval, approval_request, estimate, waiver};
pub(crate) use backup::backup;
pub(crate) use bills::{balance, credit_note, invoice, payment, suppliers};
pub(crate) use cause::{cause_name, cause_name_of, likelihood};
pub(crate) use circuit::{bare_circuit, circuit_view, meter};
use connector::connector;
pub(crate) use diagnosis::diagnosis_view;
use grounds::{grounds, overturns};
pub(crate) use job::{row, summary, verdict};
pub(crate) use job_photo::job_photos;
pub(crate) use money::{line, totals};
pub(crate) use number::{amount_view, number_view, route_numbers};
pub(crate) use photo::{photo, photos};
pub(crate) use public_record::public_record;
pub(crate) use reading::{reading_view, reading_views};
pub(crate) use request::{request_draft, waiver_draft};
pub(crate) use shared_value::shared_value;
pub(crate) use steps::{next, steps, waits};
use test_or_buy::test_or_buy;
pub(crate) use timeline::timeline;
pub(crate) use verification::verification;

pub(crate) use ::job::code;

use crate::ApiError;
use crate::view::BothLanguages;
use ::circuit::Text;
use serde::de::DeserializeOwned;

/// Lines of a job that are shown at once: of the time-line, and of its readings.
const PAGE: usize = 50;

/// The last lines before a place (from 1), or of all.
fn page<T>(all: &[T], before: Option<u32>) -> &[T] {
    let end = before.map_or(all.len(), |before| end_before(all.len(), before));
    all.get(end.saturating_sub(PAGE)..end).unwrap_or_default()
}

/// How many lines stand before a place.
fn end_before(all: usize, before: u32) -> usize {
    usize::try_from(before).unwrap_or(usize::MAX).saturating_sub(1).min(all)
}

/// How many, for the screen.
pub(crate) fn small(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

/// A text of a circuit file.
pub(crate) fn both(text: &Text) -> BothLanguages {
    BothLanguages { en: text.en.clone(), es: text.es.clone() }
}

/// A value from its code.
pub(crate) fn from_code<T: DeserializeOwned>(what: &'static str, code: &str) -> Result<T, ApiError> {
    let value = serde_json::Value::String(code.to_owned());
    serde_json::from_value(value).map_err(|_| ApiError::Unknown { what, value: code.to_owned() })
}
