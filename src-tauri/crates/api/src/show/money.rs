use super::code;
use crate::view::{LineView, TotalsView};
use ::money::{Cents, Line, Taxation, Totals};

/// Totals with how their tax was reckoned.
pub(crate) fn totals(totals: &Totals, taxation: Taxation) -> TotalsView {
    TotalsView {
        tax_included: taxation.included,
        parts: cents(totals.parts),
        labour: cents(totals.labor),
        sublet: cents(totals.sublet),
        other: cents(totals.other),
        tax: cents(totals.tax),
        total: cents(totals.total),
    }
}

pub(crate) fn cents(amount: Cents) -> String {
    amount.into()
}

pub(crate) fn line(line: &Line) -> LineView {
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
