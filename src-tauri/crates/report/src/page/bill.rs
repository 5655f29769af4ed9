//! The invoice, line by line, with its subtotals.

use super::wording::Wording;
use job::Job;
use money::{Cents, Condition, Invoice, Line, LineKind, TaxBasis, Totals};
use serde::Serialize;

/// The invoice.
#[derive(Serialize)]
pub(crate) struct Bill {
    title: String,
    lines: Vec<BillLine>,
    totals: Vec<Total>,
}

#[derive(Serialize)]
struct BillLine {
    kind: String,
    description: String,
    detail: String,
    quantity: String,
    amount: String,
}

#[derive(Serialize)]
struct Total {
    what: String,
    amount: String,
    strong: bool,
}

pub(super) fn bill(job: &Job, wording: &Wording) -> Option<Bill> {
    let kept = job.invoice.as_ref()?;
    let invoice = &kept.event.invoice;
    let title = [
        ("number", invoice.number.as_str()),
        ("version", &invoice.estimate_version.to_string()),
        ("when", &wording.date(&kept.wall)),
    ];
    Some(Bill {
        title: wording.say("invoice_title", &title),
        lines: invoice.lines.iter().map(|line| bill_line(line, wording)).collect(),
        totals: totals(invoice, &kept.event.totals, wording),
    })
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

fn totals(invoice: &Invoice, totals: &Totals, wording: &Wording) -> Vec<Total> {
    let basis = match invoice.tax_basis {
        TaxBasis::Invoice => "invoice_tax_basis_invoice",
        TaxBasis::Line => "invoice_tax_basis_line",
    };
    let tax = [
        ("rate", invoice.tax_rate.to_string()),
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
    let subtotals = subtotals.into_iter().map(|(key, amount)| row(wording.say(key, &[]), amount, false));
    let tax = row(wording.say("invoice_tax", &tax), totals.tax, false);
    subtotals.chain([tax, row(wording.say("invoice_total", &[]), totals.total, true)]).collect()
}

/// New, used, rebuilt or reconditioned, in words.
pub(super) fn condition(condition: Condition, wording: &Wording) -> String {
    let code = match condition {
        Condition::New => "new",
        Condition::Used => "used",
        Condition::Rebuilt => "rebuilt",
        Condition::Reconditioned => "reconditioned",
    };
    wording.code("condition", code)
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
