//! A statement for whoever settles a dispute: what was agreed, billed and paid, what shows it, exhibit by exhibit. About the
//! customer's bill, or about a supplier's.

mod chronology;
mod claim;
mod exhibits;
mod points;
mod rows;

use crate::attached::{self, Attached};
use crate::page::pictures::Pictures;
use crate::page::wording::Wording;
use crate::page::{seal, sheet_name};
use crate::sheet::{Sheet, Template};
use crate::summary::{self, Head};
use crate::words::Language;
use crate::{FindingsInput, ReportError};
use evidence::Digest;
use exhibits::Exhibit;
use job::suppliers::{SupplierAccount, accounts, meant};
use job::{Job, Recipient};
use serde::Serialize;
use std::collections::BTreeMap;

/// Whose bill a statement is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Against {
    /// The shop's bill to the customer.
    Customer,
    /// A supplier's bill to the shop, by the supplier's name; an empty name means the one whose bill differs most from what
    /// was agreed.
    Supplier(String),
}

impl Against {
    /// A named supplier's; without a name, a supplier reads of suppliers and everybody else of the customer.
    pub fn of(supplier: &str, reader: Recipient) -> Against {
        if supplier.is_empty() && reader != Recipient::Supplier {
            return Against::Customer;
        }
        Against::Supplier(supplier.to_owned())
    }

    /// The supplier's account in a job.
    fn account(&self, job: &Job) -> Option<SupplierAccount> {
        let Against::Supplier(name) = self else { return None };
        let accounts = accounts(job).unwrap_or_default();
        // Nothing between the two yet: never the customer's amounts in its place.
        let blank = || SupplierAccount { supplier: name.clone(), ..SupplierAccount::default() };
        Some(meant(&accounts, name).cloned().unwrap_or_else(blank))
    }
}

/// A business or a person with the ways to reach them.
#[derive(Serialize)]
struct Party {
    name: String,
    lines: Vec<String>,
}

/// The statement. Serialized, it is the template's data.
#[derive(Serialize)]
struct Statement {
    language: &'static str,
    paper: &'static str,
    title: String,
    labels: BTreeMap<&'static str, String>,
    attached: Vec<Attached>,
    head: Head,
    from: Party,
    to: Party,
    claim: claim::Claim,
    rows: Vec<rows::Row>,
    total: rows::Row,
    happened: Vec<chronology::Happened>,
    proven: Vec<String>,
    not_proven: Vec<String>,
    asked: Vec<String>,
    notes: Vec<String>,
    words: String,
    exhibits: Vec<Exhibit>,
}

/// Photos that the exhibits may show, the weightiest first.
pub(crate) fn photos(job: &Job, against: &Against) -> Vec<Digest> {
    exhibits::photos(job, against.account(job).as_ref())
}

pub(crate) fn sheet(
    input: &FindingsInput,
    against: &Against,
    language: Language,
    room: usize,
) -> Result<Sheet, ReportError> {
    let job = input.job;
    let wording = Wording::of(job, language, &input.rules.locale);
    let account = against.account(job);
    let account = account.as_ref();
    let pictures = Pictures::of(input, exhibits::photos(job, account), room);
    let mut files = pictures.files();
    files.insert(seal::QR.to_owned(), seal::qr(&summary::qr_text(input, &wording))?);
    let exhibits = exhibits::exhibits(job, account, &wording, &pictures, &mut files);
    let (rows, total) = rows::rows(job, account, &exhibits, &wording);
    let statement = Statement {
        language: language.code(),
        paper: sheet_name(input.rules.locale.paper),
        title: wording.say("statement_title", &[("number", &job.opened.number.to_string())]),
        labels: labels(&wording),
        attached: attached::attach(input, language, &mut files)?,
        head: Head::of(input, &wording, "statement_head"),
        from: from(input),
        to: to(job, account, &wording),
        claim: claim::Claim::of(job, account, &wording),
        rows,
        total,
        happened: chronology::happened(job, account, &exhibits, &wording),
        proven: points::proven(job, account, &wording),
        not_proven: points::not_proven(job, account, &wording),
        asked: points::asked(job, account, &wording),
        notes: points::notes(input, account, &wording),
        words: input.checkpoint.root_words.clone(),
        exhibits,
    };
    Ok(Sheet {
        files,
        ident: format!("statement{against:?}{}{}{}", input.checkpoint.text, input.written, language.code()),
        picture_bytes: pictures.bytes(),
        ..Sheet::new(Template::Statement, &statement, &input.written)?
    })
}

/// The letterhead above says where the shop is.
fn from(input: &FindingsInput) -> Party {
    let opened = &input.job.opened;
    let lines = Some(opened.technician.clone()).filter(|name| !name.is_empty());
    Party { name: opened.shop.clone(), lines: lines.into_iter().collect() }
}

fn to(job: &Job, account: Option<&SupplierAccount>, wording: &Wording) -> Party {
    if let Some(account) = account {
        let unnamed = || wording.say("statement_supplier", &[]);
        let name = Some(account.supplier.clone()).filter(|name| !name.is_empty()).unwrap_or_else(unnamed);
        return Party { name, lines: Vec::new() };
    }
    let known = |field: &Option<String>| field.clone().filter(|text| !text.trim().is_empty());
    let intake = &job.intake;
    let name = known(&intake.customer).unwrap_or_else(|| wording.say("statement_customer", &[]));
    Party { name, lines: [known(&intake.phone), known(&intake.email)].into_iter().flatten().collect() }
}

/// Headings and other words that the template itself places.
const LABELS: [&str; 19] = [
    "from",
    "to",
    "lines",
    "line",
    "agreed",
    "billed",
    "difference",
    "exhibit",
    "happened",
    "when",
    "what",
    "proven",
    "not_proven",
    "asked",
    "words",
    "words_text",
    "exhibits",
    "page",
    "hash",
];

fn labels(wording: &Wording) -> BTreeMap<&'static str, String> {
    let said = LABELS.map(|name| (name, wording.say(&format!("statement_{name}"), &[])));
    let page = wording.say("page_of", &[("page", "{page}"), ("pages", "{pages}")]);
    let others = [("page_of", page), ("qr_alt", wording.say("summary_qr_alt", &[]))];
    said.into_iter().chain(others).collect()
}
