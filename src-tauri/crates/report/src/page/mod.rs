//! What stands on the page, in words, ready to be laid out. The template only places it.

pub(crate) mod approvals;
pub(crate) mod bill;
pub(crate) mod bottom;
mod causes;
mod cost;
pub(crate) mod expected;
mod grounds;
mod head;
mod limit_source;
pub(crate) mod notes;
mod parts;
mod photos;
pub(crate) mod pictures;
pub(crate) mod proof;
pub(crate) mod readings;
pub(crate) mod result;
pub(crate) mod seal;
pub(crate) mod signature;
pub(crate) mod warranty;
pub(crate) mod wording;

use crate::attached::{self, Attached};
use crate::sheet::{Sheet, Template};
use crate::words::{self, Language};
use crate::{FindingsInput, ReportError};
use job::rules::Paper;
use serde::Serialize;
use std::collections::BTreeMap;

pub use bottom::bottom_line;
pub use signature::signature_svg;
use wording::Wording;

/// The whole page. Serialized, it is the template's data.
#[derive(Serialize)]
pub(crate) struct Page {
    language: &'static str,
    /// What the template calls the sheet.
    paper: &'static str,
    title: String,
    labels: BTreeMap<String, String>,
    attached: Vec<Attached>,
    head: head::Head,
    bottom: Vec<String>,
    missing: Vec<String>,
    technician_words: Option<String>,
    proofs: Vec<proof::Proof>,
    cost: Vec<cost::CostRow>,
    remaining: Vec<causes::Cause>,
    causes: Vec<causes::Cause>,
    course: Vec<causes::Course>,
    seal: seal::Seal,
    drawing: Option<Drawing>,
    readings: Vec<readings::ReadingRow>,
    findings: Vec<Vec<String>>,
    approvals: Vec<approvals::Approval>,
    parts: Vec<Vec<String>>,
    programming: Vec<String>,
    bills: Vec<bill::Bill>,
    hand_over: Vec<String>,
    doubts: Vec<String>,
    photos: Vec<photos::PhotoRow>,
    cautions: Vec<String>,
    endings: Vec<String>,
    sources: Vec<String>,
}

/// The circuit as it is drawn.
#[derive(Serialize)]
struct Drawing {
    path: &'static str,
    alt: String,
}

impl Page {
    /// Puts the records into words, with pictures of at most `room` bytes.
    pub fn sheet(input: &FindingsInput, language: Language, room: usize) -> Result<Sheet, ReportError> {
        let job = input.job;
        let wording = Wording::of(job, language, &input.rules.locale);
        let pictures = pictures::Pictures::of(input, pictures::all(input.job), room);
        let causes = causes::causes(job, &wording);
        let mut files = pictures.files();
        files.insert(seal::QR.to_owned(), seal::qr(&input.checkpoint.note)?);
        let attached = attached::attach(input, language, &mut files)?;
        let drawing = drawing(input, &wording, &mut files);
        let approvals = approvals::approvals(job, &wording, &mut files);
        let page = Page {
            language: language.code(),
            paper: sheet_name(input.rules.locale.paper),
            title: wording.say("document_title", &[("number", &job.opened.number.to_string())]),
            labels: labels(language),
            attached,
            head: head::head(input, &wording),
            bottom: bottom::sentences(job, &wording),
            missing: causes::missing(job, &wording),
            technician_words: notes::technician_words(job, &wording),
            proofs: proof::proofs(job, &wording, &pictures),
            cost: cost::rows(job, &wording),
            remaining: causes::remaining(job, &causes),
            course: causes::course(&causes, &wording),
            causes: causes::open(&causes),
            seal: seal::seal(input, &wording),
            drawing,
            readings: readings::rows(job, &wording),
            findings: notes::findings(job, &wording),
            approvals,
            parts: parts::parts(job, &wording),
            programming: parts::programming(job, &wording),
            bills: bill::bills(job, &wording),
            hand_over: parts::hand_over(job, &wording),
            doubts: notes::doubts(job, &wording),
            photos: photos::rows(input, &wording, &pictures),
            cautions: job.cautions.iter().map(|code| words::caution(language, code)).collect(),
            endings: notes::endings(input, &wording),
            sources: input.rules.sources.iter().map(|s| words::rule_source(language, s)).collect(),
        };
        Ok(Sheet {
            files,
            ident: format!("{}{}{}", input.checkpoint.text, input.written, language.code()),
            picture_bytes: pictures.bytes(),
            ..Sheet::new(Template::Full, &page, &input.written)?
        })
    }
}

/// The drawing among the page's files, with every reading in its words for who can't see it.
fn drawing(
    input: &FindingsInput,
    wording: &Wording,
    files: &mut BTreeMap<String, Vec<u8>>,
) -> Option<Drawing> {
    const PATH: &str = "circuit.svg";
    if input.drawing.is_empty() {
        return None;
    }
    files.insert(PATH.to_owned(), input.drawing.clone().into_bytes());
    let circuit = wording.circuit_title().unwrap_or_default();
    let valid = input.job.valid_readings();
    let values =
        valid.map(|one| format!("{}: {}", readings::name(one, wording), wording.shown(&one.reading)));
    let values = values.collect::<Vec<_>>().join("; ");
    let alt = wording.say("drawing_alt", &[("circuit", circuit), ("readings", &values)]);
    Some(Drawing { path: PATH, alt })
}

/// What the templates call a sheet.
pub(crate) const fn sheet_name(paper: Paper) -> &'static str {
    match paper {
        Paper::Letter => "us-letter",
        Paper::A4 => "a4",
    }
}

/// Headings of the template, each under `label_…`.
const LABELS: [&str; 35] = [
    "approvals",
    "bill_amount",
    "bill_line",
    "bill_quantity",
    "bottom",
    "cautions",
    "cause",
    "causes",
    "complaint",
    "cost",
    "course",
    "doubts",
    "drawing",
    "endings",
    "findings",
    "fingerprint",
    "fingerprint_words",
    "good",
    "hand_over",
    "invoice",
    "likelihood",
    "missing",
    "parts",
    "photos",
    "photos_note",
    "programming",
    "proof",
    "reading",
    "readings",
    "remaining",
    "seal",
    "seal_text",
    "seal_words",
    "value",
    "where",
];
/// More of them, and other words that the template places.
const OTHER_WORDS: [&str; 5] = ["none_readings", "none_remaining", "proof_after", "proof_before", "qr_alt"];

/// Headings and other words that the template itself places. The number of pages is known only to the template.
fn labels(language: Language) -> BTreeMap<String, String> {
    let labels = LABELS.map(|name| (name, format!("label_{name}")));
    let others = OTHER_WORDS.map(|key| (key, key.to_owned()));
    let page_of = words::say(language, "page_of", &[("page", "{page}"), ("pages", "{pages}")]);
    let all = labels.into_iter().chain(others);
    let said = all.map(|(name, key)| (name.to_owned(), words::say(language, &key, &[])));
    said.chain([("page_of".to_owned(), page_of)]).collect()
}
