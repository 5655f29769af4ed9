//! Invoices and credit notes, line by line, with their subtotals.

use super::wording::Wording;
use job::event::{CreditNoteKept, InvoiceKept};
use job::{Job, Kept};
use money::{Cents, Condition, Line, LineKind, TaxBasis, Taxation, Totals};
use serde::Serialize;

/// An invoice or a credit note.
#[derive(Serialize)]
pub(crate) struct Bill {
    pub(crate) title: String,
    pub(crate) lines: Vec<BillLine>,
    pub(crate) totals: Vec<Total>,
}

#[derive(Serialize)]
pub(crate) struct BillLine {
    pub(crate) kind: String,
    pub(crate) description: String,
    pub(crate) detail: String,
    pub(crate) quantity: String,
    pub(crate) amount: String,
}

#[derive(Serialize)]
pub(crate) struct Total {
    pub(crate) what: String,
    pub(crate) amount: String,
    pub(crate) strong: bool,
}

/// Every invoice, then every credit note.
pub(crate) fn bills(job: &Job, wording: &Wording) -> Vec<Bill> {
    let invoices = job.invoices.iter().map(|kept| invoice(kept, wording));
    invoices.chain(job.credit_notes.iter().map(|kept| credit_note(job, kept, wording))).collect()
}

fn invoice(kept: &Kept<InvoiceKept>, wording: &Wording) -> Bill {
    let invoice = &kept.event.invoice;
    let title = [
        ("number", invoice.number.as_str()),
        ("version", &invoice.estimate_version.to_string()),
        ("when", &wording.date(&kept.wall)),
    ];
    Bill {
        title: [
            Some(wording.say("invoice_title", &title)),
            seller_number(&kept.event.seller_number, wording),
        ]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(". "),
        lines: invoice.lines.iter().map(|line| bill_line(line, wording)).collect(),
        totals: totals(invoice.taxation(), &kept.event.totals, wording),
    }
}

fn credit_note(job: &Job, kept: &Kept<CreditNoteKept>, wording: &Wording) -> Bill {
    let note = &kept.event;
    let invoice = job.invoice(&note.invoice).map(|kept| kept.event.invoice.number.as_str());
    let title = [
        ("number", note.number.as_str()),
        ("invoice", invoice.unwrap_or("?")),
        ("when", &wording.date(&kept.wall)),
    ];
    let title = [
        Some(wording.say("credit_title", &title)),
        wording.say_if("credit_reason", "reason", &note.reason),
        seller_number(&note.seller_number, wording),
    ];
    Bill {
        title: title.into_iter().flatten().collect::<Vec<_>>().join(" "),
        lines: note.lines.iter().map(|line| bill_line(line, wording)).collect(),
        totals: totals(note.taxation(), &note.totals, wording),
    }
}

fn bill_line(line: &Line, wording: &Wording) -> BillLine {
    let named = |key: &str, name: &str, value: &Option<String>| {
        value.as_ref().and_then(|value| wording.say_if(key, name, value))
    };
    let detail = [
        line.condition.map(|c| condition(c, wording)),
        named("invoice_part_number", "number", &line.part_number),
        named("invoice_supplier", "supplier", &line.supplier),
        named("invoice_provider", "provider", &line.provider),
    ];
    let hours = matches!(line.kind, LineKind::Diagnosis | LineKind::Labor | LineKind::Programming);
    let quantity = [("quantity", line.quantity.to_string()), ("price", wording.money(line.unit_price))];
    let quantity: Vec<(&str, &str)> = quantity.iter().map(|(name, value)| (*name, value.as_str())).collect();
    BillLine {
        kind: wording.code("kind", kind_code(line.kind)),
        description: line.description.clone(),
        detail: detail.into_iter().flatten().collect::<Vec<_>>().join(", "),
        quantity: wording.say(if hours { "invoice_hours" } else { "invoice_pieces" }, &quantity),
        amount: line.amount().map_or_else(|_| "?".to_owned(), |amount| wording.money(amount)),
    }
}

/// Subtotals, the tax on top of them and the total; where the prices have the tax in them, the total and what of it is tax.
fn totals(taxation: Taxation, totals: &Totals, wording: &Wording) -> Vec<Total> {
    let basis = match taxation.basis {
        TaxBasis::Invoice => "invoice_tax_basis_invoice",
        TaxBasis::Line => "invoice_tax_basis_line",
    };
    let tax = [
        ("tax", wording.tax_name()),
        ("rate", taxation.rate.to_string()),
        ("taxable", wording.money(totals.taxable)),
        ("basis", wording.say(basis, &[])),
    ];
    let tax: Vec<(&str, &str)> = tax.iter().map(|(name, value)| (*name, value.as_str())).collect();
    let row =
        |what: String, amount: Cents, strong: bool| Total { what, amount: wording.money(amount), strong };
    let subtotals = [
        ("subtotal_parts", totals.parts),
        ("subtotal_labour", totals.labor),
        ("subtotal_sublet", totals.sublet),
        ("subtotal_other", totals.other),
    ];
    let subtotals = subtotals.into_iter().filter(|(_, amount)| *amount != Cents::ZERO);
    let subtotals = subtotals.map(|(key, amount)| row(wording.say(key, &[]), amount, false));
    let key = if taxation.included { "invoice_tax_included" } else { "invoice_tax" };
    let tax = row(wording.say(key, &tax), totals.tax, false);
    let total = row(wording.say("invoice_total", &[]), totals.total, true);
    let end = if taxation.included { [total, tax] } else { [tax, total] };
    subtotals.chain(end).collect()
}

/// "VAT number GB…", as the region calls it; nothing for a shop or a region without one.
fn seller_number(number: &str, wording: &Wording) -> Option<String> {
    (!number.trim().is_empty()).then(|| format!("{} {number}.", wording.seller_number_name()))
}

/// New, used, rebuilt or reconditioned, in words.
pub(crate) fn condition(condition: Condition, wording: &Wording) -> String {
    wording.code("condition", condition.code())
}

fn kind_code(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Diagnosis => "diagnosis",
        LineKind::Labor => "labour",
        LineKind::Programming => "programming",
        LineKind::Part => "part",
        LineKind::CoreCharge => "core_charge",
        LineKind::CoreCredit => "core_credit",
        LineKind::Sublet => "sublet",
        LineKind::Supplies => "supplies",
        LineKind::Fee => "fee",
        LineKind::Discount => "discount",
    }
}
