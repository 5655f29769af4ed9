//! Lists for a spreadsheet.

use crate::ReportError;
use job::Job;
use money::ledger::{Posting, journal};

/// Every reading of the jobs, corrected ones included, as CSV (RFC 4180) with a line of names first.
///
/// # Errors
/// [`ReportError::List`] when the list can't be written, which no text in it causes.
pub fn readings_csv(jobs: &[Job]) -> Result<Vec<u8>, ReportError> {
    let mut list = csv::Writer::from_writer(Vec::new());
    list.write_record(COLUMNS)?;
    for job in jobs {
        for reading in &job.readings {
            let kept = &reading.reading;
            let corrected = reading.corrected_by.map(|record| record.to_string()).unwrap_or_default();
            let state: Vec<String> =
                kept.state.iter().map(|(name, value)| format!("{name}={value}")).collect();
            list.write_record([
                job.opened.number.to_string(),
                reading.number.to_string(),
                reading.wall.clone(),
                kept.test.clone(),
                kept.red.clone(),
                kept.black.clone(),
                kept.value.clone(),
                kept.unit.code().to_owned(),
                state.join(" "),
                job::code(&kept.complaint_present),
                reading.record.to_string(),
                corrected,
                kept.lowest.clone(),
                kept.highest.clone(),
                kept.condition.as_ref().map(job::code).unwrap_or_default(),
            ])?;
        }
    }
    list.into_inner().map_err(|error| ReportError::List(error.to_string()))
}

/// New columns come last, so that a spreadsheet made on the first ones still reads the list.
const COLUMNS: [&str; 15] = [
    "job",
    "reading",
    "kept",
    "test",
    "red_lead",
    "black_lead",
    "value",
    "unit",
    "state",
    "complaint_present",
    "record",
    "corrected_by_record",
    "lowest",
    "highest",
    "condition",
];

/// Postings of the ledger as CSV (RFC 4180), one row a side of a movement, with a line of names first. A text that a
/// spreadsheet would take for a formula gets an apostrophe before it, as OWASP's "CSV Injection" asks.
///
/// # Errors
/// [`ReportError::List`] when the list can't be written, which no text in it causes.
pub fn ledger_csv(postings: &[Posting]) -> Result<Vec<u8>, ReportError> {
    let mut list = csv::Writer::from_writer(Vec::new());
    list.write_record(journal::COLUMNS)?;
    for row in journal::rows(postings) {
        list.write_record(row.map(|text| if text.starts_with(FORMULA) { format!("'{text}") } else { text }))?;
    }
    list.into_inner().map_err(|error| ReportError::List(error.to_string()))
}

/// What a formula begins with in common spreadsheets.
const FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];
