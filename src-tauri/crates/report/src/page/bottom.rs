//! The bottom line: a few short sentences a customer understands.

use super::proof;
use super::result::list;
use super::wording::Wording;
use crate::words::{self, Language};
use job::event::{FindingKept, Outcome, ProgrammingOutcome};
use job::rules::Locale;
use job::{Balance, Job, Kept};
use money::Cents;
use serde_json::Value;

/// The bottom line of a job in sentences, with amounts as a region writes them.
pub fn bottom_line(job: &Job, language: Language, locale: &Locale) -> Vec<String> {
    sentences(job, &Wording::of(job, language, locale))
}

pub(crate) fn sentences(job: &Job, wording: &Wording) -> Vec<String> {
    let mut said = match job.findings.last() {
        Some(finding) => found(finding, wording),
        None => vec![wording.say("bottom_no_finding", &[])],
    };
    said.extend(fixed(job, wording));
    said.extend(billed(job, wording));
    said.extend(programmed(job, wording));
    said
}

/// The cause of a finding in the language of the report.
pub(crate) fn called_cause(finding: &FindingKept, wording: &Wording) -> String {
    let written = match wording.language {
        Language::English => &finding.cause_en,
        Language::Spanish => &finding.cause_es,
    };
    if written.is_empty() { wording.cause(&finding.cause) } else { written.clone() }
}

fn found(finding: &Kept<FindingKept>, wording: &Wording) -> Vec<String> {
    let event = &finding.event;
    let cause = called_cause(event, wording);
    let likelihood = event.probability.parse().ok().map(|p| words::likelihood(wording.language, p));
    let likely = likelihood.map(|l| wording.say("bottom_likelihood", &[("likelihood", &l)]));
    match event.outcome {
        Outcome::NotProven => {
            vec![wording.say("bottom_not_proven", &[]), wording.say("bottom_not_proven_guess", &[])]
        }
        Outcome::CauseCalled => {
            let called = wording.say("bottom_called", &[("cause", &cause)]);
            let fuse = is_open_fuse(event).then(|| wording.say("bottom_open_fuse", &[]));
            [Some(called), likely, fuse].into_iter().flatten().collect()
        }
        Outcome::ModuleCalled => {
            let called = wording.say("bottom_module", &[("cause", &cause)]);
            let checked = wording.say("bottom_module_checked", &[]);
            [Some(called), likely, Some(checked)].into_iter().flatten().collect()
        }
    }
}

/// A fuse that opened is what was found, but not why.
fn is_open_fuse(finding: &FindingKept) -> bool {
    let fuses = list(&finding.result, "open_fuses");
    fuses.iter().filter_map(Value::as_str).any(|fuse| finding.cause == format!("{fuse}/open"))
}

fn fixed(job: &Job, wording: &Wording) -> Option<String> {
    let pair = job.proofs.last().and_then(|kept| proof::pair(job, &kept.event));
    match pair {
        Some((before, after)) => {
            let value = |r: &job::Reading| wording.value(job::counted(job, &r.reading), r.reading.unit);
            Some(wording.say("bottom_fixed", &[("before", &value(before)), ("after", &value(after))]))
        }
        None => {
            let called = job.findings.last().is_some_and(|f| f.event.outcome != Outcome::NotProven);
            called.then(|| wording.say("bottom_not_fixed", &[]))
        }
    }
}

fn billed(job: &Job, wording: &Wording) -> Vec<String> {
    let approved = job.approval_in_force().map(|kept| kept.event.amount);
    let balance = Balance::of(job).unwrap_or_default();
    let total = balance.billed.minus(balance.credited).ok().filter(|_| !job.invoices.is_empty());
    let amounts = |approved: Cents| wording.money(approved);
    match (approved, total) {
        (None, _) => vec![wording.say("bottom_no_approval", &[])],
        (Some(approved), None) => vec![wording.say("bottom_no_bill", &[("approved", &amounts(approved))])],
        (Some(approved), Some(total)) => {
            let values = [("approved", amounts(approved)), ("total", amounts(total))];
            let values: Vec<(&str, &str)> = values.iter().map(|(n, v)| (*n, v.as_str())).collect();
            let over = total.minus(approved).ok().filter(|over| over.0 > 0);
            let over = over.map(|over| wording.say("bottom_bill_over", &[("over", &wording.money(over))]));
            [Some(wording.say("bottom_bill", &values)), over].into_iter().flatten().collect()
        }
    }
}

/// What failed and was billed all the same, and where quotes and bills differ.
fn programmed(job: &Job, wording: &Wording) -> Vec<String> {
    let failed =
        || job.valid_attempts().filter(|one| one.kept.event.outcome != ProgrammingOutcome::Succeeded);
    let lost = Cents::sum(failed().map(|one| one.kept.event.billed)).ok().filter(|lost| lost.0 > 0);
    let lost = lost.map(|lost| match (failed().count(), wording.money(lost)) {
        (1, billed) => wording.say("bottom_programming_failed_one", &[("billed", &billed)]),
        (count, billed) => {
            let values = [("count", count.to_string()), ("billed", billed)];
            let values: Vec<(&str, &str)> =
                values.iter().map(|(name, value)| (*name, value.as_str())).collect();
            wording.say("bottom_programming_failed_many", &values)
        }
    });
    lost.into_iter().chain(over_quote(job, wording)).collect()
}

fn over_quote(job: &Job, wording: &Wording) -> Option<String> {
    let cost = job.programming_cost().ok()??;
    let difference = cost.over_quote().ok().filter(|d| d.0 != 0)?;
    let key = if difference.0 > 0 { "bottom_programming_more" } else { "bottom_programming_less" };
    let size = Cents(difference.0.saturating_abs());
    let [quoted, billed, difference] = [cost.quoted, cost.billed, size].map(|amount| wording.money(amount));
    Some(wording.say(key, &[("quoted", &quoted), ("billed", &billed), ("difference", &difference)]))
}
