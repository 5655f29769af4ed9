//! Approved against billed; quoted against billed for the programming.

use super::wording::Wording;
use job::Job;
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

fn programming(job: &Job, wording: &Wording) -> Vec<CostRow> {
    let Some(decided) = &job.programming else { return Vec::new() };
    let quoted = decided.event.quoted;
    let mut rows = vec![row(
        wording.say("cost_programming_quoted", &[]),
        wording.date(&decided.wall),
        wording.money(quoted),
    )];
    if let Some(kept) = &job.programmed {
        let billed = kept.event.billed;
        let what = wording.say("cost_programming_billed", &[]);
        rows.push(row(what, wording.date(&kept.wall), wording.money(billed)));
        if let Some(difference) = billed.minus(quoted).ok().filter(|d| d.0 != 0) {
            let what = wording.say("cost_programming_difference", &[]);
            rows.push(CostRow { strong: true, ..row(what, String::new(), wording.money(difference)) });
        }
    }
    rows
}

fn row(what: String, note: String, amount: String) -> CostRow {
    CostRow { what, note, amount, strong: false }
}
