//! Approved against billed; quoted against billed for the programming.

use super::wording::Wording;
use job::event::ProgrammingOutcome;
use job::{Attempt, Job};
use money::Cents;
use serde::Serialize;

/// One amount with its words.
#[derive(Serialize)]
pub(crate) struct CostRow {
    what: String,
    note: String,
    amount: String,
    strong: bool,
}

pub(super) fn rows(job: &Job, wording: &Wording) -> Vec<CostRow> {
    let mut rows = approved(job, wording);
    rows.extend(not_approved(job, wording));
    rows.extend(bill(job, wording));
    rows.extend(programming(job, wording));
    rows
}

fn approved(job: &Job, wording: &Wording) -> Vec<CostRow> {
    let approvals = job.approvals.iter();
    approvals
        .map(|kept| {
            let event = &kept.event;
            let channel = wording.code_of("approval_channel", &event.channel);
            let when = wording.date(&kept.wall);
            let note = wording.say("cost_approved_note", &[("channel", &channel), ("when", &when)]);
            let version = event.version.to_string();
            row(wording.say("cost_approved", &[("version", &version)]), note, wording.money(event.amount))
        })
        .collect()
}

/// Versions of the estimate that were asked for and never approved.
fn not_approved(job: &Job, wording: &Wording) -> Vec<CostRow> {
    let open = job.estimates.iter().filter(|e| !job.approvals.iter().any(|a| a.event.estimate == e.record));
    open.map(|kept| {
        let version = kept.event.estimate.version.to_string();
        let what = wording.say("cost_not_approved", &[("version", &version)]);
        row(what, wording.date(&kept.wall), wording.money(kept.event.totals.total))
    })
    .collect()
}

fn bill(job: &Job, wording: &Wording) -> Vec<CostRow> {
    let Some(kept) = &job.invoice else { return Vec::new() };
    let total = kept.event.totals.total;
    let bill = row(wording.say("cost_bill", &[]), wording.date(&kept.wall), wording.money(total));
    let left = kept.event.approved.minus(total).unwrap_or(Cents::ZERO);
    let key = if left.0 < 0 { "cost_over" } else { "cost_under" };
    let difference = row(wording.say(key, &[]), String::new(), wording.money(Cents(left.0.saturating_abs())));
    vec![CostRow { strong: true, ..bill }, difference]
}

/// The quote of each decision and the bill of each attempt that counts, then what they come to. A session that failed and
/// was billed is one of them.
fn programming(job: &Job, wording: &Wording) -> Vec<CostRow> {
    let mut rows = Vec::new();
    let counted = || job.valid_attempts();
    for decided in &job.programming {
        let own = || counted().filter(|one| one.decided == Some(decided.record));
        // What was decided and then decided otherwise, before anything was done, cost nothing.
        let in_force = job.programming_decision().is_some_and(|last| last.record == decided.record);
        if in_force || own().next().is_some() {
            let what = wording.say("cost_programming_quoted", &[]);
            rows.push(row(what, wording.date(&decided.wall), wording.money(decided.event.quoted)));
        }
        rows.extend(own().map(|one| attempt(one, job, wording)));
    }
    rows.extend(counted().filter(|one| job.decision_of(one).is_none()).map(|one| attempt(one, job, wording)));
    rows.extend(difference(job, wording));
    rows
}

fn attempt(attempt: &Attempt, job: &Job, wording: &Wording) -> CostRow {
    let (kept, event) = (&attempt.kept, &attempt.kept.event);
    let billed = wording.money(event.billed);
    if job.valid_attempts().count() < 2 && event.outcome == ProgrammingOutcome::Succeeded {
        return row(wording.say("cost_programming_billed", &[]), wording.date(&kept.wall), billed);
    }
    let (when, outcome) = (wording.date(&kept.wall), wording.code_of("programming_outcome", &event.outcome));
    let what = wording.say("cost_programming_attempt", &[("number", &attempt.number.to_string())]);
    row(what, wording.say("cost_programming_note", &[("when", &when), ("outcome", &outcome)]), billed)
}

/// Both sums where there was more than one attempt, and what lies between them.
fn difference(job: &Job, wording: &Wording) -> Vec<CostRow> {
    let Ok(Some(cost)) = job.programming_cost() else { return Vec::new() };
    let mut rows = Vec::new();
    if job.valid_attempts().count() > 1 {
        let sums =
            [("cost_programming_quoted_total", cost.quoted), ("cost_programming_billed_total", cost.billed)];
        rows.extend(sums.map(|(key, sum)| row(wording.say(key, &[]), String::new(), wording.money(sum))));
    }
    if let Some(difference) = cost.over_quote().ok().filter(|d| d.0 != 0) {
        let what = wording.say("cost_programming_difference", &[]);
        rows.push(CostRow { strong: true, ..row(what, String::new(), wording.money(difference)) });
    }
    rows
}

fn row(what: String, note: String, amount: String) -> CostRow {
    CostRow { what, note, amount, strong: false }
}
