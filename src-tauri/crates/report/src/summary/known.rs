//! What is proven and what isn't, in a few lines each.

use super::comparison;
use super::headline::Status;
use crate::page::expected::Expected;
use crate::page::result::{decimal, list};
use crate::page::wording::Wording;
use crate::{CLEARED, everyday};
use circuit::UNMODELED;
use job::Job;
use job::event::{FindingKept, Outcome};
use serde::Serialize;
use serde_json::Value;
use std::collections::BTreeMap;

/// Other causes that are named; more of them stand in the full report.
const NAMED: usize = 3;

/// Both columns.
#[derive(Serialize)]
pub(crate) struct Known {
    pub(crate) proven: Vec<String>,
    pub(crate) unknown: Vec<String>,
}

impl Known {
    pub fn of(job: &Job, status: Status, wording: &Wording) -> Known {
        Known { proven: proven(job, status, wording), unknown: unknown(job, wording) }
    }
}

fn proven(job: &Job, status: Status, wording: &Wording) -> Vec<String> {
    let finding = job.findings.last().map(|kept| &kept.event);
    let cleared = finding.map(|finding| cleared_parts(finding, wording)).unwrap_or_default();
    let cleared = wording.say_if("summary_cleared", "parts", &cleared.join(", "));
    let sides = comparison::sides(job);
    let called = finding.is_some_and(|finding| finding.outcome != Outcome::NotProven);
    let failed = sides.filter(|_| called).map(|(before, _)| {
        let expected = Expected::of(before, job, wording);
        let unit = before.reading.unit;
        let (value, good) = (wording.shown(&before.reading), expected.words(unit, wording));
        let key = if expected == Expected::default() { "summary_failed" } else { "summary_failed_limit" };
        wording.say(key, &[("value", &value), ("good", &good)])
    });
    let after = sides.and_then(|(_, after)| after).map(|after| {
        let key = if status == Status::Fixed { "summary_repaired" } else { "summary_not_repaired" };
        wording.say(key, &[("value", &wording.shown(&after.reading))])
    });
    let lines: Vec<String> = [cleared, failed, after].into_iter().flatten().collect();
    if lines.is_empty() { vec![wording.say("summary_nothing", &[])] } else { lines }
}

/// Sorts of parts that hold less than one chance in a hundred together, by name; that of the called part is none of them.
pub(super) fn cleared_parts(finding: &FindingKept, wording: &Wording) -> Vec<String> {
    let Some(circuit) = wording.circuit() else { return Vec::new() };
    let called = finding.cause.split('/').next().unwrap_or_default();
    let mut chances: BTreeMap<String, f64> = BTreeMap::new();
    for cause in list(&finding.result, "causes") {
        let Some(id) = cause.get("id").and_then(Value::as_str) else { continue };
        for one in id.split(" + ") {
            let part = one.split('/').next().unwrap_or_default();
            let Some(component) = circuit.components.iter().find(|component| component.id == part) else {
                continue;
            };
            let chance = decimal(cause.get("probability")).unwrap_or(1.0);
            let chance = if part == called { 1.0 } else { chance };
            *chances.entry(everyday::Sort::of(component, circuit).name(wording)).or_default() += chance;
        }
    }
    let mut names: Vec<String> = everyday::Sort::TOLD.iter().map(|sort| sort.name(wording)).collect();
    names.dedup();
    names.retain(|name| chances.get(name).is_some_and(|chance| *chance < CLEARED));
    names
}

fn unknown(job: &Job, wording: &Wording) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(finding) = job.findings.last().map(|kept| &kept.event) {
        let mut others = others(finding, wording);
        others.sort_by(|left, right| right.0.total_cmp(&left.0));
        lines.extend(others.into_iter().take(NAMED).map(|(chance, cause)| {
            wording.say("summary_possible", &[("percent", &::words::percent(chance)), ("cause", &cause)])
        }));
        let fuse = |id: &Value| id.as_str().is_some_and(|fuse| finding.cause == format!("{fuse}/open"));
        if list(&finding.result, "open_fuses").iter().any(fuse) {
            lines.push(wording.say("summary_why_fuse", &[]));
        }
    }
    lines.push(wording.say("summary_rest", &[]));
    lines
}

/// Causes of one chance in a hundred or more beside the one that was called. The same words count once, with their chances
/// added up.
fn others(finding: &FindingKept, wording: &Wording) -> Vec<(f64, String)> {
    let causes = list(&finding.result, "causes").iter().filter_map(|cause| {
        let id = cause.get("id")?.as_str().filter(|id| *id != finding.cause || finding.cause.is_empty())?;
        Some((everyday::cause_inside(id, wording), decimal(cause.get("probability"))?))
    });
    let outside = decimal(finding.result.get("unmodelled"))
        .map(|chance| (everyday::cause_inside(UNMODELED, wording), chance));
    // To this reader, a cause in the words of the called one is the same.
    let called = everyday::cause_inside(&finding.cause, wording);
    let mut sums: BTreeMap<String, f64> = BTreeMap::new();
    for (words, chance) in causes.chain(outside).filter(|(words, _)| *words != called) {
        *sums.entry(words).or_default() += chance;
    }
    sums.into_iter().filter(|(_, chance)| *chance >= CLEARED).map(|(words, chance)| (chance, words)).collect()
}
