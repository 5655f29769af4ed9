//! From a sheet to PDF, by Typst.

mod files;

use crate::ReportError;
use crate::sheet::Sheet;
use files::Files;
pub use files::LETTERS;
use typst::diag::SourceDiagnostic;
use typst::foundations::{Datetime, Smart};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

/// What the PDF claims to be, strictest first. A character without a glyph is allowed only by the last.
const CLAIMS: [&[PdfStandard]; 3] =
    [&[PdfStandard::A_3a, PdfStandard::Ua_1], &[PdfStandard::Ua_1], &[PdfStandard::V_1_7]];

/// A document that was set.
pub(crate) struct Printed {
    pub pdf: Vec<u8>,
    pub pages: usize,
}

/// Sets the sheet and writes it as PDF.
pub(crate) fn print(sheet: &Sheet) -> Result<Printed, ReportError> {
    let files = Files::of(sheet)?;
    let document: PagedDocument = typst::compile(&files).output.map_err(|e| typesetting(&e))?;
    let mut written = Err(ReportError::Typesetting("no form of PDF is left to try".to_owned()));
    for claim in CLAIMS {
        written = write(sheet, &document, claim);
        if written.is_ok() {
            break;
        }
    }
    // Typst keeps what it computed for a next run; on a phone the memory is worth more.
    typst::comemo::evict(0);
    Ok(Printed { pdf: written?, pages: document.pages().len() })
}

fn write(sheet: &Sheet, document: &PagedDocument, claim: &[PdfStandard]) -> Result<Vec<u8>, ReportError> {
    let standards =
        PdfStandards::new(claim).map_err(|e| ReportError::Typesetting(e.message().to_string()))?;
    let options = PdfOptions {
        ident: Smart::Custom(sheet.ident.clone()),
        creator: Smart::Custom(Some("Testimeter".to_owned())),
        timestamp: timestamp(sheet),
        standards,
        ..PdfOptions::default()
    };
    typst_pdf::pdf(document, &options).map_err(|e| typesetting(&e))
}

fn timestamp(sheet: &Sheet) -> Option<Timestamp> {
    use chrono::{Datelike, Timelike};
    let at = sheet.written;
    let [month, day, hour, minute, second] = [at.month(), at.day(), at.hour(), at.minute(), at.second()]
        .map(|n| u8::try_from(n).unwrap_or_default());
    let local = Datetime::from_ymd_hms(at.year(), month, day, hour, minute, second)?;
    Timestamp::new_local(local, at.offset().local_minus_utc().div_euclid(60))
}

fn typesetting(problems: &[SourceDiagnostic]) -> ReportError {
    let first = problems.first().map_or_else(String::new, |p| p.message.to_string());
    ReportError::Typesetting(first)
}
