//! Causes with their likelihood, as the finding froze them.

use super::bottom;
use super::result::{decimal, list};
use super::wording::Wording;
use crate::{CLEARED, words};
use circuit::UNMODELED;
use job::Job;
use job::event::{FindingKept, Outcome};
use serde::Serialize;
use serde_json::Value;

/// Causes shown on the first page beside the one that is called.
const SHOWN_FIRST: usize = 4;
/// The code of a rival before a module, and how many of them are named.
const RIVAL: &str = "rival_too_likely";
const RIVALS_NAMED: usize = 3;

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
        let name = wording.cause(UNMODELED);
        let likelihood = words::likelihood(wording.language, probability);
        causes.push(Cause { name, likelihood, ruled_out: String::new(), called: false, probability });
    }
    causes.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    causes
}

/// Causes that are still possible, and the called one.
pub(super) fn open(causes: &[Cause]) -> Vec<Cause> {
    causes.iter().filter(|cause| cause.called || cause.probability >= CLEARED).cloned().collect()
}

/// What each reading ruled out, in the order in which they did most; last what fell to all of them together.
pub(super) fn course(causes: &[Cause], wording: &Wording) -> Vec<Course> {
    let mut course: Vec<Course> = Vec::new();
    for cause in causes.iter().filter(|cause| !cause.called && cause.probability < CLEARED) {
        let by = if cause.ruled_out.is_empty() {
            wording.say("course_together", &[])
        } else {
            cause.ruled_out.clone()
        };
        match course.iter_mut().find(|one| one.by == by) {
            Some(one) => one.causes.push(cause.name.clone()),
            None => course.push(Course { by, causes: vec![cause.name.clone()] }),
        }
    }
    let together = wording.say("course_together", &[]);
    course.sort_by_key(|one| (one.by == together, std::cmp::Reverse(one.causes.len())));
    course
}

/// What one reading ruled out.
#[derive(Serialize)]
pub(crate) struct Course {
    by: String,
    causes: Vec<String>,
}

/// The likeliest causes beside the called one: "could you be wrong?".
pub(super) fn remaining(job: &Job, causes: &[Cause]) -> Vec<Cause> {
    let proven = job.findings.last().is_some_and(|f| f.event.outcome != Outcome::NotProven);
    let others = causes.iter().filter(|c| !(c.called && proven));
    others.take(SHOWN_FIRST).cloned().collect()
}

/// What is missing before the likeliest module may be called; only for a finding that says "not proven yet".
pub(super) fn missing(job: &Job, wording: &Wording) -> Vec<String> {
    let open = job.findings.last().filter(|f| f.event.outcome == Outcome::NotProven);
    let modules = open.map_or(&[][..], |f| list(&f.event.result, "modules"));
    let probability = |module: &Value| decimal(module.get("probability")).unwrap_or(0.0);
    let likeliest = modules.iter().max_by(|a, b| probability(a).total_cmp(&probability(b)));
    let all = likeliest.map_or(&[][..], |module| list(module, "missing"));
    let (rivals, asked): (Vec<&Value>, Vec<&Value>) =
        all.iter().partition(|item| item.get("code").and_then(Value::as_str) == Some(RIVAL));
    let mut said: Vec<String> = asked.into_iter().map(|item| missing_item(item, wording)).collect();
    let names: Vec<String> = rivals.into_iter().map(|item| about(item, wording)).collect();
    if !names.is_empty() {
        said.push(rivals_too_likely(&names, wording));
    }
    said
}

/// All rivals in one sentence: the first few by name, the others stand in the list of causes.
fn rivals_too_likely(names: &[String], wording: &Wording) -> String {
    let (first, rest) = names.split_at(names.len().min(RIVALS_NAMED));
    let mut about = first.join("; ");
    if !rest.is_empty() {
        let count = rest.len().to_string();
        about = wording.say("missing_more", &[("names", &about), ("count", &count)]);
    }
    wording.say(&format!("missing_{RIVAL}"), &[("about", &about)])
}

fn missing_item(item: &Value, wording: &Wording) -> String {
    let code = item.get("code").and_then(Value::as_str).unwrap_or_default();
    wording.say(&format!("missing_{code}"), &[("about", &about(item, wording))])
}

/// A need of the module or a cause, by name.
fn about(item: &Value, wording: &Wording) -> String {
    let id = item.get("about").and_then(Value::as_str).unwrap_or_default();
    wording.need(id).unwrap_or_else(|| wording.cause(id))
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
