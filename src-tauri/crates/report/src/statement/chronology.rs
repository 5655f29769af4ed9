//! What happened, in order, each with the exhibit that shows it.

use super::exhibits::{Exhibit, letters};
use crate::page::approvals::given;
use crate::page::wording::Wording;
use crate::summary::Headline;
use evidence::Digest;
use job::event::PaymentWay;
use job::suppliers::SupplierAccount;
use job::{Job, Kept};
use money::Cents;
use serde::Serialize;

/// One line.
#[derive(Serialize)]
pub(crate) struct Happened {
    when: String,
    what: String,
    exhibit: String,
}

/// Wall time, record, words.
type Entry = (String, Digest, String);

pub(super) fn happened(
    job: &Job,
    account: Option<&SupplierAccount>,
    exhibits: &[Exhibit],
    wording: &Wording,
) -> Vec<Happened> {
    let mut entries = match account {
        Some(account) => with_supplier(job, account, wording),
        None => with_customer(job, wording),
    };
    // Times of one job in one zone compare as texts. What was typed is true to the minute: within one, the order in which
    // things are asked, answered and billed stays.
    entries.sort_by(|left, right| left.0.get(..16).cmp(&right.0.get(..16)));
    let said = entries.into_iter().map(|(wall, record, what)| Happened {
        when: wording.day_and_time(&wall),
        what,
        exhibit: letters(exhibits, &[record]),
    });
    said.collect()
}

fn entry<T>(kept: &Kept<T>, what: String) -> Entry {
    (kept.wall.clone(), kept.record, what)
}

fn with_customer(job: &Job, wording: &Wording) -> Vec<Entry> {
    let money = |amount: Cents| wording.money(amount);
    let amount = |key: &str, amount: Cents| wording.say(key, &[("amount", &money(amount))]);
    let mut entries: Vec<Entry> = Vec::new();
    entries.extend(job.findings.last().map(|kept| entry(kept, Headline::of(job, wording).text)));
    entries.extend(job.estimates.iter().map(|kept| {
        let version = kept.event.estimate.version.to_string();
        let values = [("version", version.as_str()), ("amount", &money(kept.event.totals.total))];
        entry(kept, wording.say("statement_estimate", &values))
    }));
    entries.extend(job.requests.iter().map(|kept| {
        let channel = wording.code_of("approval_channel", &kept.event.channel);
        entry(kept, wording.say("statement_asked_them", &[("channel", &channel)]))
    }));
    entries.extend(job.approvals.iter().map(|kept| {
        let event = &kept.event;
        let channel = wording.code_of("approval_channel", &event.channel);
        let values = [("channel", channel.as_str()), ("amount", &money(event.amount))];
        let key = if event.approves() { "statement_yes" } else { "statement_no" };
        (given(kept).to_owned(), kept.record, wording.say(key, &values))
    }));
    entries.extend(job.withdrawn.values().map(|kept| entry(kept, wording.say("statement_withdrawn", &[]))));
    entries.extend(job.proofs.last().map(|kept| entry(kept, wording.say("statement_proven_fix", &[]))));
    entries.extend(job.invoices.iter().map(|kept| {
        let (number, total) = (&kept.event.invoice.number, money(kept.event.totals.total));
        entry(kept, wording.say("statement_invoice", &[("number", number), ("amount", &total)]))
    }));
    entries.extend(job.credit_notes.iter().map(|kept| {
        let (number, total) = (&kept.event.number, money(kept.event.totals.total));
        entry(kept, wording.say("statement_credit", &[("number", number), ("amount", &total)]))
    }));
    entries.extend(job.payments.iter().map(|kept| {
        let key = match kept.event.way {
            PaymentWay::Received => "statement_paid",
            PaymentWay::Refunded => "statement_refunded",
        };
        entry(kept, amount(key, kept.event.amount))
    }));
    entries.extend(job.handed_over.as_ref().map(|kept| entry(kept, wording.say("statement_handed", &[]))));
    entries
}

fn with_supplier(job: &Job, account: &SupplierAccount, wording: &Wording) -> Vec<Entry> {
    let wall = |record: &Digest| job.entry(record).map(|entry| entry.wall.clone()).unwrap_or_default();
    let said = |line: &job::suppliers::SupplierLine| {
        let values = [
            ("step", wording.code_of("supplier_step", &line.step)),
            ("what", wording.code_of("what", &line.what)),
            ("amount", wording.money(line.amount)),
        ];
        let values: Vec<(&str, &str)> = values.iter().map(|(name, text)| (*name, text.as_str())).collect();
        let more = [&line.description, &line.reference, &line.by];
        let more: Vec<&str> = more.into_iter().map(String::as_str).filter(|text| !text.is_empty()).collect();
        let first = wording.say("statement_step", &values);
        if more.is_empty() { first } else { format!("{first} · {}", more.join(" · ")) }
    };
    account.lines.iter().map(|line| (wall(&line.record), line.record, said(line))).collect()
}
