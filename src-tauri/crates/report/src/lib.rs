//! Paper: a [`job::Job`] becomes a page, in English or Spanish. The customer's summary, the full report, the statement of a
//! dispute, the message that tells the result.
//!
//! A report prints what the records say and works nothing out again: the finding, its probabilities and its limits
//! were frozen when they were kept. Layout, tagging and writing direction are done by Typst; our templates read their
//! data from a JSON file inside `typeset`, so that no text of a user is ever markup.
//!
//! Knows no clock, no disk and no network: the time, the pictures and the checkpoint come in as values.
#![deny(missing_docs, clippy::missing_errors_doc)]

mod attached;
mod error;
mod everyday;
mod input;
mod lists;
mod message;
mod page;
mod sheet;
mod statement;
mod summary;
mod typeset;
pub mod words;

pub use self::words::Language;
pub use attached::JobRecords;
pub use error::ReportError;
pub use input::{
    CUSTOMER_BYTES, CheckpointPrint, FULL_BYTES, FindingsInput, OutsideTimePrint, RulesPrint, ShopPrint,
};
pub use lists::{ledger_csv, readings_csv};
pub use message::{EightWords, LONGEST_MESSAGE, everyday_cause, headline, result_message};
pub use page::{bottom_line, signature_svg};
pub use statement::Against;
pub use typeset::LETTERS;

use evidence::Digest;
use job::Job;
use sheet::Sheet;
use typeset::Printed;

/// Below this share of the probability a cause counts as cleared on the first page: one chance in a hundred.
pub(crate) const CLEARED: f64 = 0.01;
/// Rows of readings that a summary begins with; where they make it too long, it tries with fewer.
const MOST_READINGS: usize = 60;

/// The full report as PDF: bottom line, proof, cost, what else is possible, how to check; then every reading, approval,
/// part, photo and the bill.
///
/// The same input gives the same bytes. The PDF is tagged and names its language; it claims PDF/A-3a and PDF/UA-1
/// unless a character is printed that none of our fonts has, because those standards forbid it.
///
/// # Errors
/// [`ReportError::Time`] when `written` is not RFC 3339, [`ReportError::CheckpointTooLong`] when the note doesn't fit
/// a QR code, [`ReportError::Typesetting`] when the page can't be set.
pub fn findings_pdf(input: &FindingsInput, language: Language) -> Result<Vec<u8>, ReportError> {
    Ok(within(input.most_bytes, |room| page::Page::sheet(input, language, room))?.pdf)
}

/// The customer's summary as PDF: one page, and at most three more with readings, photos, bill and how to check.
///
/// # Errors
/// As [`findings_pdf`].
pub fn summary_pdf(input: &FindingsInput, language: Language) -> Result<Vec<u8>, ReportError> {
    let (order, mut readings) = (summary::photo_order(input), MOST_READINGS);
    loop {
        let sheet = |room| summary::Summary::sheet(input, language, &order, room, readings);
        let printed = within(input.most_bytes, sheet)?;
        if printed.pages <= summary::MOST_PAGES || readings == 0 {
            return Ok(printed.pdf);
        }
        readings = readings.saturating_sub(15);
    }
}

/// The customer's summary as one HTML file that reflows on a phone: no script, nothing from elsewhere, its pictures inside.
///
/// # Errors
/// [`ReportError::CheckpointTooLong`] when the words don't fit a QR code.
pub fn summary_page(input: &FindingsInput, language: Language) -> Result<String, ReportError> {
    // Base64 takes four characters for three bytes (RFC 4648); the words need little.
    let room = input.most_bytes.saturating_mul(7) / 10;
    let order = summary::photo_order(input);
    let page = |room| summary::Summary::phone_page(input, language, &order, room);
    let whole = page(room)?;
    let over = whole.len().saturating_sub(input.most_bytes);
    if over == 0 { Ok(whole) } else { page(room.saturating_sub(over)) }
}

/// Photos of which a summary may show a picture: those of its first page, then a few of each sort. It asks for no other.
#[must_use]
pub fn summary_photos(job: &Job) -> Vec<Digest> {
    let (first, behind) = summary::photo_candidates(job);
    first.into_iter().chain(behind).collect()
}

/// Photos of which a statement may show a picture. It asks for no other.
#[must_use]
pub fn statement_photos(job: &Job, against: &Against) -> Vec<Digest> {
    statement::photos(job, against)
}

/// What is claimed, agreed, billed and paid, and what shows it: one page, then the exhibits.
///
/// # Errors
/// As [`findings_pdf`].
pub fn statement_pdf(
    input: &FindingsInput,
    against: &Against,
    language: Language,
) -> Result<Vec<u8>, ReportError> {
    Ok(within(input.most_bytes, |room| statement::sheet(input, against, language, room))?.pdf)
}

/// Sets a document, with as many of its pictures as fit. Nobody knows what text and fonts weigh before they are set, so
/// pictures make room afterwards.
fn within(
    most_bytes: usize,
    sheet: impl Fn(usize) -> Result<Sheet, ReportError>,
) -> Result<Printed, ReportError> {
    let mut room = most_bytes;
    loop {
        let sheet = sheet(room)?;
        let printed = typeset::print(&sheet)?;
        let over = printed.pdf.len().saturating_sub(most_bytes);
        if over == 0 || sheet.picture_bytes == 0 {
            return Ok(printed);
        }
        room = sheet.picture_bytes.saturating_sub(over);
    }
}
