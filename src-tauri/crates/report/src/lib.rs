//! Paper for the customer: a [`job::Job`] becomes a findings report as PDF, in English or Spanish.
//!
//! The report prints what the records say and works nothing out again: the finding, its probabilities and its limits
//! were frozen when they were kept. Layout, tagging and writing direction are done by Typst; our template reads its
//! data from a JSON file inside `typeset`, so that no text of a user is ever markup.
//!
//! Knows no clock, no disk and no network: the time, the pictures and the checkpoint come in as values.
#![deny(missing_docs, clippy::missing_errors_doc)]

mod calendar;
mod error;
mod input;
mod lists;
mod page;
mod typeset;
pub mod words;

pub use self::words::Language;
pub use calendar::{Appointment, appointment_calendar};
pub use error::ReportError;
pub use input::{CUSTOMER_BYTES, CheckpointPrint, FULL_BYTES, FindingsInput, OutsideTimePrint, RulesPrint};
pub use lists::{ledger_csv, readings_csv};
pub use page::{bottom_line, signature_svg};
pub use typeset::LETTERS;

/// The findings report as PDF: bottom line, proof, cost, what else is possible, how to check; then every reading,
/// approval, part, photo and the bill.
///
/// The same input gives the same bytes. The PDF is tagged and names its language; it claims PDF/A-3a and PDF/UA-1
/// unless a character is printed that none of our fonts has, because those standards forbid it.
///
/// # Errors
/// [`ReportError::Time`] when `written` is not RFC 3339, [`ReportError::CheckpointTooLong`] when the note doesn't fit
/// a QR code, [`ReportError::Typesetting`] when the page can't be set.
pub fn findings_pdf(input: &FindingsInput, language: Language) -> Result<Vec<u8>, ReportError> {
    let mut room = input.most_bytes;
    loop {
        let page = page::Page::of(input, language, room)?;
        let pdf = typeset::pdf(&page)?;
        let over = pdf.len().saturating_sub(input.most_bytes);
        // Nobody knows what text and fonts weigh before they are set, so pictures make room afterwards.
        if over == 0 || page.picture_bytes == 0 {
            return Ok(pdf);
        }
        room = page.picture_bytes.saturating_sub(over);
    }
}
