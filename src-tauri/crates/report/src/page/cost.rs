//! Approved against billed and paid; quoted against billed for the programming.

use super::wording::Wording;
use job::event::{PaymentKept, PaymentWay, ProgrammingOutcome};
use job::{Attempt, Balance, Job, Kept};
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
    rows.extend(bills(job, wording));
    rows.extend(payments(job, wording));
    rows.extend(programming(job, wording));
    rows
}

fn approved(job: &Job, wording: &Wording) -> Vec<CostRow> {
    let approvals = job.approvals.iter().filter(|kept| kept.event.approves());
    approvals
        .map(|kept| {
            let event = &kept.event;
            let channel = wording.code_of("approval_channel", &event.channel);
            let when = wording.date(super::approvals::given(kept));
            let note = wording.say("cost_approved_note", &[("channel", &channel), ("when", &when)]);
            let key = if job.is_withdrawn(kept) { "cost_withdrawn" } else { "cost_approved" };
            let version = event.version.to_string();
            row(wording.say(key, &[("version", &version)]), note, wording.money(event.amount))
        })
        .collect()
}

/// Versions of the estimate that were asked for and never approved.
fn not_approved(job: &Job, wording: &Wording) -> Vec<CostRow> {
    let open = job
        .estimates
        .iter()
        .filter(|e| !job.approvals.iter().any(|a| a.event.approves() && a.event.estimate == e.record));
    open.map(|kept| {
        let version = kept.event.estimate.version.to_string();
        let what = wording.say("cost_not_approved", &[("version", &version)]);
        row(what, wording.date(&kept.wall), wording.money(kept.event.totals.total))
    })
    .collect()
}

/// Invoices and credit notes, and what they leave of the approved amount.
fn bills(job: &Job, wording: &Wording) -> Vec<CostRow> {
    let Some(latest) = job.latest_invoice() else { return Vec::new() };
    let named = |key: &str, number: &str| wording.say(key, &[("number", number)]);
    let invoices = job.invoices.iter().map(|kept| {
        let (number, total) = (&kept.event.invoice.number, kept.event.totals.total);
        let row = row(named("cost_bill", number), wording.date(&kept.wall), wording.money(total));
        CostRow { strong: true, ..row }
    });
    let credits = job.credit_notes.iter().map(|kept| {
        let amount = Cents(kept.event.totals.total.0.saturating_neg());
        row(named("cost_credit", &kept.event.number), wording.date(&kept.wall), wording.money(amount))
    });
    let balance = Balance::of(job).unwrap_or_default();
    let billed = balance.billed.minus(balance.credited);
    let left = billed.and_then(|billed| latest.event.approved.minus(billed)).unwrap_or(Cents::ZERO);
    let key = if left.0 < 0 { "cost_over" } else { "cost_under" };
    let difference = row(wording.say(key, &[]), String::new(), wording.money(Cents(left.0.saturating_abs())));
    invoices.chain(credits).chain([difference]).collect()
}

/// What was paid and given back, and what is due.
fn payments(job: &Job, wording: &Wording) -> Vec<CostRow> {
    let one = |kept: &Kept<PaymentKept>| {
        let event = &kept.event;
        let (key, amount) = match event.way {
            PaymentWay::Received => ("cost_paid", event.amount),
            PaymentWay::Refunded => ("cost_refunded", Cents(event.amount.0.saturating_neg())),
        };
        let means = wording.code_of("means", &event.means);
        let what = wording.say(key, &[("means", &means)]);
        row(what, wording.local_day(&event.day), wording.money(amount))
    };
    let mut rows: Vec<CostRow> = job.payments.iter().map(one).collect();
    if !job.invoices.is_empty() {
        let due = Balance::of(job).unwrap_or_default().due;
        let key = if due.0 < 0 { "cost_owed_back" } else { "cost_due" };
        let amount = wording.money(Cents(due.0.saturating_abs()));
        rows.push(CostRow { strong: true, ..row(wording.say(key, &[]), String::new(), amount) });
    }
    rows
}

/// The quote of each decision and the bill of each attempt that counts, then what they come to. A session that failed and
/// was billed is one of them.
fn programming(job: &Job, wording: &Wording) -> Vec<CostRow> {
    // What the shop is quoted and billed is the shop's: the customer's copy has none of it.
    let amounts = job.programming.iter().map(|kept| kept.event.quoted);
    if amounts.chain(job.programmed.iter().map(|one| one.kept.event.billed)).all(|amount| amount.0 == 0) {
        return Vec::new();
    }
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
