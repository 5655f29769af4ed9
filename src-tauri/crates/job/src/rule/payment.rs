//! What credit notes, payments and suppliers' steps demand.

use super::require;
use crate::event::{CreditNoteKept, PaymentKept, PaymentWay, SupplierStepKept};
use crate::refused::{Permission, Refused};
use crate::{Balance, Job, Kept};
use money::{Cents, Line, MoneyError};
use std::collections::BTreeMap;

/// Something was billed.
pub(super) fn credit(job: &Job) -> Permission {
    require(!job.invoices.is_empty(), "no_invoice")
}

/// Something was approved, or billed.
pub(super) fn pay(job: &Job) -> Permission {
    require(job.approval_in_force().is_some() || !job.invoices.is_empty(), "nothing_approved")
}

/// Lines of the invoice as they were billed, no more of each than is left, with a reason.
pub(super) fn credited(job: &Job, kept: &CreditNoteKept) -> Permission {
    credit(job)?;
    let unknown = || Refused::unknown("record", &kept.invoice.to_string());
    let invoice = job.invoice(&kept.invoice).ok_or_else(unknown)?;
    require(job.replacement_of(invoice).is_none(), "invoice_was_replaced")?;
    if kept.reason.trim().is_empty() {
        return Err(Refused::because("field_empty").with("field", "reason"));
    }
    let known = job.credit_notes.iter().any(|earlier| earlier.event.number == kept.number);
    require(!known, "invoice_number_taken")?;
    let billed = &invoice.event.invoice;
    require(billed.taxation() == kept.taxation(), "credit_tax_differs")?;
    let before: Vec<&Kept<CreditNoteKept>> = job.credits_of(&kept.invoice).collect();
    let earlier = before.iter().flat_map(|note| &note.event.lines);
    if let Some(line) = more_than_billed(&billed.lines, earlier.chain(&kept.lines)) {
        return Err(Refused::because("credit_not_billed").with("description", &line.description));
    }
    let credited = Cents::sum(before.iter().map(|note| note.event.totals.total));
    let left = credited.and_then(|credited| invoice.event.totals.total.minus(credited)).map_err(refused)?;
    if kept.totals.total > left {
        return Err(over("credit_over_invoice", kept.totals.total, left));
    }
    Ok(())
}

/// The first line of which more is credited than was billed; nothing but the quantity of a line may differ.
fn more_than_billed<'a>(billed: &[Line], credited: impl Iterator<Item = &'a Line>) -> Option<&'a Line> {
    let key = |line: &Line| {
        let whole = Line { quantity: money::Quantity::ONE, ..line.clone() };
        serde_json::to_string(&whole).unwrap_or_default()
    };
    let amount = |line: &Line| u64::from(line.quantity.thousandths());
    let mut left: BTreeMap<String, u64> = BTreeMap::new();
    for line in billed {
        let sum = left.entry(key(line)).or_default();
        *sum = sum.saturating_add(amount(line));
    }
    for line in credited {
        let rest = left.get(&key(line)).and_then(|left| left.checked_sub(amount(line)));
        match rest {
            Some(rest) => drop(left.insert(key(line), rest)),
            None => return Some(line),
        }
    }
    None
}

/// Before an invoice, deposits up to what was approved; then no more than is due. Back goes no more than the customer
/// has paid beyond what is owed: whoever gives money back for a bill writes its credit note first.
pub(super) fn kept(job: &Job, kept: &PaymentKept) -> Permission {
    pay(job)?;
    let balance = Balance::of(job).map_err(refused)?;
    let held = balance.held().map_err(refused)?;
    let (most, reason) = match (kept.way, job.invoices.is_empty()) {
        (PaymentWay::Received, true) => {
            let approved = job.approval_in_force().map_or(Cents::ZERO, |approval| approval.event.amount);
            (approved.minus(held).map_err(refused)?, "deposit_over_approved")
        }
        (PaymentWay::Received, false) => (balance.due, "payment_over_due"),
        (PaymentWay::Refunded, true) => (held, "refund_over_paid"),
        (PaymentWay::Refunded, false) => {
            (Cents::ZERO.minus(balance.due).map_err(refused)?.min(held), "refund_over_paid")
        }
    };
    let most = most.max(Cents::ZERO);
    if kept.amount > most { Err(over(reason, kept.amount, most)) } else { Ok(()) }
}

/// A step names its business and what it is about.
pub(super) fn supplier(kept: &SupplierStepKept) -> Permission {
    for (field, text) in [("supplier", &kept.supplier), ("description", &kept.description)] {
        if text.trim().is_empty() {
            return Err(Refused::because("field_empty").with("field", field));
        }
    }
    Ok(())
}

fn over(reason: &'static str, asked: Cents, most: Cents) -> Refused {
    Refused::because(reason).with("asked", &String::from(asked)).with("most", &String::from(most))
}

fn refused(error: MoneyError) -> Refused {
    Refused::because("money_refused").with("detail", &error.to_string())
}
