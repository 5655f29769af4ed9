//! Line by line: what was agreed, what was billed, what lies between.

use super::claim::sums;
use super::exhibits::{Exhibit, letters};
use crate::page::wording::Wording;
use evidence::Digest;
use job::Job;
use job::event::SupplierStep;
use job::suppliers::{SupplierAccount, SupplierLine};
use money::ledger::CostKind;
use money::{Cents, Line, LineAnswer};
use serde::Serialize;

/// One line of the comparison.
#[derive(Serialize)]
pub(crate) struct Row {
    what: String,
    agreed: String,
    billed: String,
    difference: String,
    /// Billed as agreed, or below.
    good: bool,
    exhibit: String,
}

/// The rows and their sums.
pub(super) fn rows(
    job: &Job,
    account: Option<&SupplierAccount>,
    exhibits: &[Exhibit],
    wording: &Wording,
) -> (Vec<Row>, Row) {
    let rows = match account {
        Some(account) => supplier_rows(account, exhibits, wording),
        None => customer_rows(job, exhibits, wording),
    };
    let (agreed, billed, _) = sums(job, account);
    let total = wording.say("invoice_total", &[]);
    (rows, row(total, Some(agreed), Some(billed), String::new(), wording))
}

fn row(
    what: String,
    agreed: Option<Cents>,
    billed: Option<Cents>,
    exhibit: String,
    wording: &Wording,
) -> Row {
    let amount = |amount: Option<Cents>, none: &str| {
        amount.map_or_else(|| wording.say(none, &[]), |amount| wording.money(amount))
    };
    let difference = billed.unwrap_or_default().minus(agreed.unwrap_or_default()).unwrap_or_default();
    let sign = if difference.0 > 0 { "+" } else { "" };
    Row {
        what,
        agreed: amount(agreed, "statement_not_agreed"),
        billed: amount(billed, "statement_not_billed"),
        difference: format!("{sign}{}", wording.money(difference)),
        good: difference.0 <= 0,
        exhibit,
    }
}

fn customer_rows(job: &Job, exhibits: &[Exhibit], wording: &Wording) -> Vec<Row> {
    let approval = job.approval_in_force();
    let invoices: Vec<Digest> = job.invoices.iter().map(|kept| kept.record).collect();
    let (billed, _) = job.billed_lines();
    let mut open: Vec<&Line> = billed;
    let shown = |lines: &[&Line]| {
        let agreed = approval.map(|kept| kept.record).into_iter();
        let records: Vec<Digest> =
            agreed.chain(invoices.iter().copied().filter(|_| !lines.is_empty())).collect();
        letters(exhibits, &records)
    };
    let mut rows = Vec::new();
    for answered in job.agreed_lines().iter().filter(|line| line.answer == LineAnswer::Approved) {
        let line = answered.line;
        let found = open.iter().position(|one| one.kind == line.kind && one.description == line.description);
        let found = found.or_else(|| open.iter().position(|one| one.kind == line.kind));
        let bill = found.map(|place| open.remove(place));
        let records: Vec<&Line> = bill.into_iter().collect();
        rows.push(row(
            line.description.clone(),
            line.amount().ok(),
            bill.and_then(|bill| bill.amount().ok()),
            shown(&records),
            wording,
        ));
    }
    for bill in open {
        rows.push(row(bill.description.clone(), None, bill.amount().ok(), shown(&[bill]), wording));
    }
    rows.extend(tax(job, wording));
    rows
}

/// Tax of the approved version against that of the bills.
fn tax(job: &Job, wording: &Wording) -> Option<Row> {
    let agreed = job.approval_in_force().and_then(|kept| job.estimate_of(&kept.event));
    let agreed = agreed.map(|estimate| estimate.event.totals.tax);
    let billed = Cents::sum(job.invoices.iter().map(|kept| kept.event.totals.tax)).ok();
    let billed = billed.filter(|_| !job.invoices.is_empty());
    let any = [agreed, billed].into_iter().flatten().any(|tax| tax != Cents::ZERO);
    any.then(|| row(wording.say("statement_tax", &[]), agreed, billed, String::new(), wording))
}

/// By what it is for: what was promised last, and what was billed for it.
fn supplier_rows(account: &SupplierAccount, exhibits: &[Exhibit], wording: &Wording) -> Vec<Row> {
    let mut kinds: Vec<CostKind> = Vec::new();
    for line in &account.lines {
        if !kinds.contains(&line.what) {
            kinds.push(line.what);
        }
    }
    let one = |kind: &CostKind| {
        let lines = || account.lines.iter().filter(|line| line.what == *kind);
        let of = |steps: &'static [SupplierStep]| {
            lines().filter(move |line: &&SupplierLine| steps.contains(&line.step))
        };
        let agreed = of(&[SupplierStep::Quoted, SupplierStep::Agreed]).next_back().map(|line| line.amount);
        let mut billed = of(&[SupplierStep::Billed]).peekable();
        let billed =
            billed.peek().is_some().then(|| Cents::sum(billed.map(|line| line.amount)).ok()).flatten();
        let records: Vec<Digest> = lines().map(|line| line.record).collect();
        row(
            crate::everyday::sentence(&wording.code_of("what", kind)),
            agreed,
            billed,
            letters(exhibits, &records),
            wording,
        )
    };
    kinds.iter().map(one).collect()
}
