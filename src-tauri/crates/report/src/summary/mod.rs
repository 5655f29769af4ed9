//! The customer's summary: one page that is understood in twenty seconds, and at most three more for whoever doubts it.

mod amounts;
mod appendix;
mod closing;
mod comparison;
mod head;
mod headline;
mod known;
mod phone;
mod photos;
mod scale;
mod strip;

use crate::attached::{self, Attached};
use crate::page::pictures::Pictures;
use crate::page::wording::Wording;
use crate::page::{bill, seal, sheet_name};
use crate::sheet::{Sheet, Template};
use crate::words::Language;
use crate::{FindingsInput, ReportError};
use evidence::Digest;
use serde::Serialize;
use std::collections::BTreeMap;

pub(crate) use amounts::Amounts;
pub(crate) use closing::{Closing, closing};
pub(crate) use comparison::{Comparison, comparison, sides};
pub(crate) use head::Head;
pub(crate) use headline::Headline;
pub(crate) use known::Known;
pub(crate) use photos::{candidates as photo_candidates, order as photo_order};
pub(crate) use strip::Strip;

/// Most pages: the summary itself and three more.
pub(crate) const MOST_PAGES: usize = 4;

/// The summary. Serialized, it is the template's data.
#[derive(Serialize)]
pub(crate) struct Summary {
    pub(crate) language: &'static str,
    pub(crate) paper: &'static str,
    pub(crate) title: String,
    pub(crate) labels: BTreeMap<&'static str, String>,
    attached: Vec<Attached>,
    pub(crate) head: Head,
    pub(crate) complaint: Option<String>,
    pub(crate) headline: Headline,
    pub(crate) comparison: Option<Comparison>,
    pub(crate) strip: Option<Strip>,
    pub(crate) known: Known,
    pub(crate) amounts: Amounts,
    pub(crate) closing: Vec<Closing>,
    pub(crate) words: String,
    pub(crate) readings: appendix::Readings,
    pub(crate) photos: photos::Photos,
    pub(crate) bills: Vec<bill::Bill>,
    pub(crate) approvals: Vec<appendix::Yes>,
    pub(crate) how: Vec<String>,
    pub(crate) limits: Vec<String>,
}

impl Summary {
    /// Puts the records into words, with pictures of at most `room` bytes and at most so many rows of readings.
    pub fn sheet(
        input: &FindingsInput,
        language: Language,
        order: &[Digest],
        room: usize,
        most_readings: usize,
    ) -> Result<Sheet, ReportError> {
        let wording = Wording::of(input.job, language, &input.rules.locale);
        let pictures = Pictures::of(input, order.to_vec(), room);
        let mut files = pictures.files();
        let summary = Summary {
            attached: attached::attach(input, language, &mut files)?,
            ..Summary::of(input, &wording, &pictures, order, most_readings)
        };
        files.insert(seal::QR.to_owned(), seal::qr(&qr_text(input, &wording))?);
        Ok(Sheet {
            files,
            ident: format!("summary{}{}{}", input.checkpoint.text, input.written, language.code()),
            picture_bytes: pictures.bytes(),
            ..Sheet::new(Template::Summary, &summary, &input.written)?
        })
    }

    /// The same as one HTML file, with pictures of at most `room` bytes.
    pub fn phone_page(
        input: &FindingsInput,
        language: Language,
        order: &[Digest],
        room: usize,
    ) -> Result<String, ReportError> {
        let wording = Wording::of(input.job, language, &input.rules.locale);
        let pictures = Pictures::of(input, order.to_vec(), room);
        let summary = Summary::of(input, &wording, &pictures, order, usize::MAX);
        let qr = seal::qr(&qr_text(input, &wording))?;
        Ok(phone::page(&summary, &pictures.files(), &String::from_utf8_lossy(&qr)))
    }

    fn of(
        input: &FindingsInput,
        wording: &Wording,
        pictures: &Pictures,
        order: &[Digest],
        most_readings: usize,
    ) -> Summary {
        let job = input.job;
        let comparison = comparison(job, wording, pictures);
        let headline = Headline::of(job, wording);
        let strip = Strip::of(job, headline.status, wording);
        Summary {
            language: wording.language.code(),
            paper: sheet_name(input.rules.locale.paper),
            title: wording.say("summary_title", &[("number", &job.opened.number.to_string())]),
            labels: labels(wording),
            attached: Vec::new(),
            head: Head::of(input, wording, "summary_head"),
            complaint: job.intake.complaint.clone().filter(|text| !text.trim().is_empty()),
            known: Known::of(job, headline.status, wording),
            amounts: Amounts::of(job, wording),
            closing: closing(input, headline.status, wording),
            words: input.checkpoint.root_words.clone(),
            readings: appendix::Readings::of(job, wording, most_readings),
            photos: photos::Photos::of(job, order, wording, pictures),
            bills: bill::bills(job, wording),
            approvals: appendix::approvals(job, wording),
            how: appendix::how(wording),
            limits: appendix::limits(input, wording),
            comparison,
            headline,
            strip,
        }
    }
}

/// Letters of the shop's name in the code.
const LONGEST_SHOP: usize = 80;

/// What the code opens as: text that a person understands.
pub(crate) fn qr_text(input: &FindingsInput, wording: &Wording) -> String {
    let opened = &input.job.opened;
    let (number, report) = (opened.number.to_string(), input.number.to_string());
    // A code holds only so much, and a name may be of any length.
    let shop: String = opened.shop.chars().take(LONGEST_SHOP).collect();
    let values = [
        ("shop", shop.as_str()),
        ("number", &number),
        ("report", &report),
        ("when", &wording.day(&input.written)),
        ("words", &input.checkpoint.root_words),
    ];
    wording.say("summary_qr", &values)
}

/// Headings and other words that the template itself places.
const LABELS: [&str; 24] = [
    "complaint",
    "strip",
    "proven",
    "unknown",
    "money",
    "check",
    "check_text",
    "qr_alt",
    "readings",
    "no_readings",
    "column_reading",
    "time",
    "what",
    "column_good",
    "value",
    "photos",
    "invoice",
    "approvals",
    "version",
    "amount",
    "who",
    "said",
    "how",
    "limits",
];

fn labels(wording: &Wording) -> BTreeMap<&'static str, String> {
    let said = LABELS.map(|name| (name, wording.say(&format!("summary_{name}"), &[])));
    let page = wording.say("page_of", &[("page", "{page}"), ("pages", "{pages}")]);
    said.into_iter().chain([("page_of", page)]).collect()
}
