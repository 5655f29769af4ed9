//! What is proven, what isn't, what is asked for, and what a clerk asks besides.

use super::claim::sums;
use crate::FindingsInput;
use crate::page::warranty::warranty;
use crate::page::wording::Wording;
use job::Job;
use job::event::{Channel, SupplierStep};
use job::suppliers::SupplierAccount;
use money::Cents;

pub(super) fn proven(job: &Job, account: Option<&SupplierAccount>, wording: &Wording) -> Vec<String> {
    let say = |key: &str, holds: bool| holds.then(|| wording.say(key, &[]));
    let lines = match account {
        Some(account) => {
            let has = |step: SupplierStep| account.lines.iter().any(|line| line.step == step);
            vec![
                say("statement_proven_quote", has(SupplierStep::Quoted) || has(SupplierStep::Agreed)),
                say("statement_proven_bill", has(SupplierStep::Billed)),
                say("statement_proven_payment", has(SupplierStep::Paid)),
            ]
        }
        None => vec![
            say("statement_proven_yes", job.approval_in_force().is_some()),
            say("statement_proven_invoice", !job.invoices.is_empty()),
            say("statement_proven_measured", !job.proofs.is_empty()),
        ],
    };
    lines.into_iter().flatten().chain([wording.say("statement_proven_unchanged", &[])]).collect()
}

pub(super) fn not_proven(job: &Job, account: Option<&SupplierAccount>, wording: &Wording) -> Vec<String> {
    let phoned = job.approvals.iter().any(|kept| kept.event.channel == Channel::Phone);
    let spoken = account.is_some() || phoned;
    let first = spoken.then(|| wording.say("statement_open_phone", &[]));
    let terms = account.map(|_| wording.say("statement_open_terms", &[]));
    let true_words = wording.say("statement_open_true", &[]);
    [first, terms, Some(true_words)].into_iter().flatten().collect()
}

pub(super) fn asked(job: &Job, account: Option<&SupplierAccount>, wording: &Wording) -> Vec<String> {
    let (agreed, billed, paid) = sums(job, account);
    let over = billed.minus(agreed).unwrap_or_default();
    let due = billed.minus(paid).unwrap_or_default();
    let with = |key: &str, amount: Cents| wording.say(key, &[("amount", &wording.money(amount))]);
    let lines = match account {
        Some(_) if over.0 > 0 => vec![
            Some(with("statement_ask_credit", over)),
            Some(wording.say("statement_ask_our_yes", &[])),
            (paid != Cents::ZERO).then(|| with("statement_ask_paid", paid)),
        ],
        Some(_) => vec![Some(wording.say("statement_ask_confirm", &[]))],
        None => vec![
            (paid.0 > 0).then(|| with("statement_ask_stands", paid)),
            (due.0 > 0).then(|| with("statement_ask_due", due)),
            (paid.0 <= 0 && due.0 <= 0).then(|| wording.say("statement_ask_nothing", &[])),
        ],
    };
    lines.into_iter().flatten().collect()
}

/// References, refunds, time limits: what a clerk asks besides.
pub(super) fn notes(
    input: &FindingsInput,
    account: Option<&SupplierAccount>,
    wording: &Wording,
) -> Vec<String> {
    let job = input.job;
    let references = job.payments.iter().filter(|kept| !kept.event.reference.trim().is_empty());
    let references: Vec<String> = references
        .map(|kept| format!("{} ({})", kept.event.reference, wording.local_day(&kept.event.day)))
        .collect();
    let references = wording.say_if("statement_references", "references", &references.join(", "));
    let terms = wording.say_if("statement_terms", "terms", &warranty(job, wording).unwrap_or_default());
    let refunds = wording.say("statement_no_refund_policy", &[]);
    let limits = wording.say("statement_limits", &[]);
    let days = input.rules.card_notice_days.map(|days| days.to_string()).unwrap_or_default();
    let notice = wording.say_if("statement_card_notice", "days", &days);
    match account {
        // The customer is no party to it, and owes none of it.
        Some(_) => vec![wording.say("statement_not_customers", &[]), limits],
        None => [references, terms, Some(refunds), notice, Some(limits)].into_iter().flatten().collect(),
    }
}
