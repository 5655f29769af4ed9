//! What records say that other records refer to, as it is gathered while they go past.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use crate::{Digest, Record};

/// The kind of record that names a report by its hash, in `body.sha256`.
pub const REPORT_KIND: &str = "report_written";

/// What the records of one log say about each other, with their sequence.
#[derive(Debug, Default)]
pub struct Said {
    /// By leaf: what each estimate comes to, in minor units.
    pub estimates: BTreeMap<Digest, i64>,
    /// Leaves of all readings.
    pub readings: BTreeSet<Digest>,
    /// Answers to estimates.
    pub approvals: Vec<Approved>,
    /// Leaves of the approvals that were taken back.
    pub withdrawn: Vec<(u64, Digest)>,
    /// What each credit note takes back.
    pub credits: Vec<(u64, i64)>,
    /// What the bill comes to, and the approved amount it was held against.
    pub bills: Vec<(u64, i64, i64)>,
    /// Readings that were kept against what their photo seemed to show: what was kept, and what was seen.
    pub against_photo: Vec<(u64, String, String)>,
    /// The readings that a finding names.
    pub findings: Vec<(u64, Vec<Digest>)>,
    /// Size and root of the checkpoint that a report prints.
    pub reports: Vec<(u64, u64, Digest)>,
}

/// A customer's answer to an estimate.
#[derive(Debug)]
pub struct Approved {
    /// Its sequence.
    pub sequence: u64,
    /// Its leaf.
    pub leaf: Digest,
    /// The estimate.
    pub estimate: Digest,
    /// Up to which total, in minor units.
    pub amount: i64,
    /// Nothing of it was approved.
    pub declined: bool,
}

impl Said {
    /// Takes up the next record.
    pub fn take(&mut self, sequence: u64, leaf: Digest, record: &Record) {
        // Nothing to compare is nothing to say: a body without these fields is judged by its own checks.
        let _ = self.try_take(sequence, leaf, record);
    }

    fn try_take(&mut self, sequence: u64, leaf: Digest, record: &Record) -> Option<()> {
        let body = &record.body;
        match record.kind.as_str() {
            "estimate_kept" => drop(self.estimates.insert(leaf, total(body)?)),
            "approval_kept" => {
                let (estimate, amount) = (digest(body.get("estimate")?)?, amount(body.get("amount")?)?);
                let answers = body.get("answers").and_then(Value::as_array);
                let declined =
                    answers.is_some_and(|answers| answers.iter().all(|answer| answer != "approved"));
                self.approvals.push(Approved { sequence, leaf, estimate, amount, declined });
            }
            "approval_withdrawn" => self.withdrawn.push((sequence, digest(body.get("approval")?)?)),
            "credit_note_kept" => self.credits.push((sequence, total(body)?)),
            "invoice_kept" => self.bills.push((sequence, total(body)?, amount(body.get("approved")?)?)),
            "reading_kept" => {
                self.readings.insert(leaf);
                self.against_photo.extend(against_photo(sequence, body));
            }
            "reading_corrected" => {
                self.readings.insert(leaf);
                // What is taken back is only repeated.
                let withdrawn = body.get("withdrawn") == Some(&Value::Bool(true));
                let reading = body.get("reading").filter(|_| !withdrawn)?;
                self.against_photo.extend(against_photo(sequence, reading));
            }
            "finding_kept" => {
                let named = body.get("readings")?.as_array()?.iter().map(digest);
                self.findings.push((sequence, named.collect::<Option<_>>()?));
            }
            REPORT_KIND => {
                self.reports.push((sequence, body.get("size")?.as_u64()?, digest(body.get("root")?)?));
            }
            _ => {}
        }
        Some(())
    }
}

/// A reading whose technician was asked about what its photo seemed to show, and kept something else.
fn against_photo(sequence: u64, reading: &Value) -> Option<(u64, String, String)> {
    let seen = reading.get("seen").filter(|seen| seen.get("kept_against") == Some(&Value::Bool(true)))?;
    let text = |name: &str| reading.get(name).and_then(Value::as_str).filter(|text| !text.is_empty());
    let kept = ["value", "lowest", "highest"].into_iter().find_map(text)?;
    let kept = text("unit").map_or_else(|| kept.to_owned(), |unit| format!("{kept} {unit}"));
    Some((sequence, kept, seen.get("value")?.as_str()?.to_owned()))
}

fn total(body: &Value) -> Option<i64> {
    amount(body.get("totals")?.get("total")?)
}

/// Minor units as a decimal string.
fn amount(value: &Value) -> Option<i64> {
    value.as_str()?.parse().ok()
}

fn digest(value: &Value) -> Option<Digest> {
    value.as_str()?.parse().ok()
}
