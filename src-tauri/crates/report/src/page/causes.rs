//! Causes with their likelihood, as the finding froze them.

use super::{Wording, bottom};
use crate::words;
use job::Job;
use job::event::{FindingKept, Outcome};
use serde::Serialize;
use serde_json::Value;

/// Causes shown on the first page beside the one that is called.
const SHOWN_FIRST: usize = 4;

/// One cause.
#[derive(Clone, Serialize)]
pub(crate) struct Cause {
    name: String,
    likelihood: String,
    ruled_out: String,
    called: bool,
    #[serde(skip)]
    probability: f64,
}

/// All causes of the newest finding, most likely first, with what the circuit doesn't contain.
pub(super) fn causes(job: &Job, wording: &Wording) -> Vec<Cause> {
    let Some(finding) = job.findings.last().map(|kept| &kept.event) else { return Vec::new() };
    let mut causes: Vec<Cause> =
        list(&finding.result, "causes").iter().filter_map(|c| cause(c, finding, job, wording)).collect();
    if let Some(probability) = decimal(finding.result.get("unmodelled")) {
        let name = wording.say("cause_unmodelled", &[]);
        let likelihood = words::likelihood(wording.language, probability);
        causes.push(Cause { name, likelihood, ruled_out: String::new(), called: false, probability });
    }
    causes.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    causes
}

/// The likeliest causes beside the called one: "could you be wrong?".
pub(super) fn remaining(job: &Job, causes: &[Cause]) -> Vec<Cause> {
    let proven = job.findings.last().is_some_and(|f| f.event.outcome != Outcome::NotProven);
    let others = causes.iter().filter(|c| !(c.called && proven));
    others.take(SHOWN_FIRST).cloned().collect()
}

/// What is missing before a module may be called; only for a finding that says "not proven yet".
pub(super) fn missing(job: &Job, wording: &Wording) -> Vec<String> {
    let open = job.findings.last().filter(|f| f.event.outcome == Outcome::NotProven);
    let modules = open.map_or(&[][..], |f| list(&f.event.result, "modules"));
    modules.iter().flat_map(|m| list(m, "missing")).map(|item| missing_item(item, wording)).collect()
}

fn missing_item(item: &Value, wording: &Wording) -> String {
    let text = |name: &str| item.get(name).and_then(Value::as_str).unwrap_or_default();
    let about = text("about");
    let about = wording.need(about).unwrap_or_else(|| wording.cause(about));
    wording.say(&format!("missing_{}", text("code")), &[("about", &about)])
}

fn cause(value: &Value, finding: &FindingKept, job: &Job, wording: &Wording) -> Option<Cause> {
    let id = value.get("id")?.as_str()?;
    let probability = decimal(value.get("probability"))?;
    let called = id == finding.cause;
    let name = if called { bottom::called_cause(finding, wording) } else { wording.cause(id) };
    let by = value.get("ruled_out").and_then(|r| r.get("by")).and_then(Value::as_str);
    let number = by.and_then(|by| job.readings.iter().find(|r| r.record.to_string() == by)).map(|r| r.number);
    Some(Cause {
        name,
        likelihood: words::likelihood(wording.language, probability),
        ruled_out: number
            .map_or_else(String::new, |n| wording.say("reading_name", &[("number", &n.to_string())])),
        called,
        probability,
    })
}

/// A number that may be written as a decimal string, as records do.
pub(super) fn decimal(value: Option<&Value>) -> Option<f64> {
    match value? {
        Value::String(text) => text.parse().ok(),
        other => other.as_f64(),
    }
}

pub(super) fn list<'a>(value: &'a Value, name: &str) -> &'a [Value] {
    value.get(name).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}
