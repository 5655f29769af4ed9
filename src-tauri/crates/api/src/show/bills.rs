//! Invoices, credit notes, payments and suppliers' accounts.

use super::money::{cents, line, totals};
use super::{code, photos};
use crate::view::*;
use ::job::event::{CreditNoteKept, InvoiceKept, PaymentKept};
use ::job::{Balance, Job, Kept, suppliers as accounts};
use ::money::Cents;

/// An invoice with what of it was credited.
pub(crate) fn invoice(job: &Job, kept: &Kept<InvoiceKept>) -> InvoiceView {
    let credited = job.credits_of(&kept.record).map(|note| note.event.totals.total);
    InvoiceView {
        record: kept.record.to_string(),
        number: kept.event.invoice.number.clone(),
        kept: kept.wall.clone(),
        lines: kept.event.invoice.lines.iter().map(line).collect(),
        totals: totals(&kept.event.totals, kept.event.invoice.taxation()),
        approved: cents(kept.event.approved),
        credited: Cents::sum(credited).map(cents).unwrap_or_default(),
        seller_number: kept.event.seller_number.clone(),
        replaced: job.replacement_of(kept).map(|later| later.wall.clone()).unwrap_or_default(),
        replaces: job.replaced_by(kept).map(|earlier| earlier.wall.clone()).unwrap_or_default(),
    }
}

/// A credit note.
pub(crate) fn credit_note(job: &Job, kept: &Kept<CreditNoteKept>) -> CreditNoteView {
    let invoice = job.invoice(&kept.event.invoice).map(|kept| kept.event.invoice.number.clone());
    CreditNoteView {
        record: kept.record.to_string(),
        number: kept.event.number.clone(),
        invoice: invoice.unwrap_or_default(),
        kept: kept.wall.clone(),
        lines: kept.event.lines.iter().map(line).collect(),
        totals: totals(&kept.event.totals, kept.event.taxation()),
        reason: kept.event.reason.clone(),
    }
}

/// A payment.
pub(crate) fn payment(job: &Job, kept: &Kept<PaymentKept>) -> PaymentView {
    let event = &kept.event;
    PaymentView {
        record: kept.record.to_string(),
        kept: kept.wall.clone(),
        way: event.way,
        means: code(&event.means),
        amount: cents(event.amount),
        day: event.day.clone(),
        reference: event.reference.clone(),
        note: event.note.clone(),
        photos: photos(job, &event.photos),
    }
}

/// What the customer owes and has paid; nothing where the sums don't fit.
pub(crate) fn balance(job: &Job) -> BalanceView {
    let Ok(balance) = Balance::of(job) else { return BalanceView::default() };
    BalanceView {
        billed: cents(balance.billed),
        credited: cents(balance.credited),
        paid: balance.held().map(cents).unwrap_or_default(),
        due: cents(balance.due),
        is_deposit: job.invoices.is_empty(),
    }
}

/// Suppliers' accounts; none where the sums don't fit.
pub(crate) fn suppliers(job: &Job) -> Vec<SupplierView> {
    accounts::accounts(job).unwrap_or_default().into_iter().map(supplier).collect()
}

fn supplier(account: accounts::SupplierAccount) -> SupplierView {
    SupplierView {
        supplier: account.supplier,
        lines: account.lines.into_iter().map(supplier_line).collect(),
        expected: cents(account.expected),
        billed: cents(account.billed),
        over_expected: cents(account.over_expected),
        paid: cents(account.paid),
        owed: cents(account.owed),
        to_come_back: cents(account.to_come_back),
    }
}

fn supplier_line(line: accounts::SupplierLine) -> SupplierLineView {
    SupplierLineView {
        record: line.record.to_string(),
        day: line.day,
        step: line.step,
        what: code(&line.what),
        description: line.description,
        amount: cents(line.amount),
        due: line.due,
        reference: line.reference,
        by: line.by,
    }
}
