use super::code;
use crate::view::{EstimateView, InvoiceView, LineView, TotalsView};
use ::job::event::{EstimateKept, InvoiceKept};
use ::job::{Job, Kept};
use ::money::{Cents, Line, Totals};

/// Totals.
pub(crate) fn totals(totals: &Totals) -> TotalsView {
    TotalsView {
        parts: cents(totals.parts),
        labour: cents(totals.labor),
        sublet: cents(totals.sublet),
        other: cents(totals.other),
        tax: cents(totals.tax),
        total: cents(totals.total),
    }
}

/// A version of the estimate with the approval that names it.
pub(crate) fn estimate(job: &Job, kept: &Kept<EstimateKept>) -> EstimateView {
    let approval = job.approvals.iter().rfind(|a| a.event.estimate == kept.record);
    EstimateView {
        record: kept.record.to_string(),
        version: kept.event.estimate.version,
        kept: kept.wall.clone(),
        lines: kept.event.estimate.lines.iter().map(line).collect(),
        totals: totals(&kept.event.totals),
        approved_by: approval.map(|a| a.record.to_string()).unwrap_or_default(),
    }
}

/// The invoice.
pub(crate) fn invoice(kept: &Kept<InvoiceKept>) -> InvoiceView {
    InvoiceView {
        record: kept.record.to_string(),
        kept: kept.wall.clone(),
        lines: kept.event.invoice.lines.iter().map(line).collect(),
        totals: totals(&kept.event.totals),
        approved: cents(kept.event.approved),
    }
}

pub(crate) fn cents(amount: Cents) -> String {
    amount.into()
}

fn line(line: &Line) -> LineView {
    LineView {
        kind: code(&line.kind),
        description: line.description.clone(),
        quantity: line.quantity.to_string(),
        unit_price: cents(line.unit_price),
        amount: line.amount().map(cents).unwrap_or_default(),
        condition: line.condition.as_ref().map(code).unwrap_or_default(),
        part_number: line.part_number.clone().unwrap_or_default(),
        provider: line.provider.clone().unwrap_or_default(),
        taxed: line.taxed,
    }
}
