//! One line of an estimate or an invoice.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cents::Cents;
use crate::error::MoneyError;
use crate::quantity::Quantity;

/// What a line charges for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LineKind {
    /// Finding the fault.
    Diagnosis,
    /// Repair work, in hours.
    Labour,
    /// Programming a module in the shop.
    Programming,
    /// A part.
    Part,
    /// A deposit on the old part.
    CoreCharge,
    /// The deposit given back; price below zero.
    CoreCredit,
    /// Work done by somebody else.
    Sublet,
    /// Shop supplies.
    Supplies,
    /// A fee, such as disposal or towing.
    Fee,
    /// A reduction; price below zero.
    Discount,
}

/// The subtotal a kind of line counts in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Subtotal {
    /// Parts and their cores.
    Parts,
    /// Diagnosis, labour, programming in the shop.
    Labour,
    /// Work done by somebody else.
    Sublet,
    /// Supplies, fees, discounts.
    Other,
}

/// State of a part when fitted; some states want it on the invoice (16 CCR 3356(c)(2); NY VTL 398-d for
/// used parts).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Condition {
    /// Never fitted before.
    New,
    /// Taken from another vehicle.
    Used,
    /// Taken apart and worn pieces replaced.
    Rebuilt,
    /// Cleaned up and put right, not rebuilt.
    Reconditioned,
}

/// One line. `quantity` is hours where the kind is diagnosis, labour or programming (then `unit_price`
/// is the rate per hour) and pieces everywhere else.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Line {
    /// What the line charges for.
    pub kind: LineKind,
    /// Words for the customer.
    pub description: String,
    /// Hours or pieces.
    pub quantity: Quantity,
    /// Price of one hour or one piece.
    pub unit_price: Cents,
    /// Whether sales tax is due on the line.
    pub taxed: bool,
    /// New, used or rebuilt: needed for parts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub condition: Option<Condition>,
    /// Number of the part.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part_number: Option<String>,
    /// Who sold the part.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub supplier: Option<String>,
    /// Who does the sublet work: needed for sublet lines.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub provider: Option<String>,
}

impl LineKind {
    /// The subtotal this kind counts in.
    pub fn subtotal(self) -> Subtotal {
        match self {
            LineKind::Part | LineKind::CoreCharge | LineKind::CoreCredit => Subtotal::Parts,
            LineKind::Diagnosis | LineKind::Labour | LineKind::Programming => Subtotal::Labour,
            LineKind::Sublet => Subtotal::Sublet,
            LineKind::Supplies | LineKind::Fee | LineKind::Discount => Subtotal::Other,
        }
    }

    /// Whether the line lowers the total.
    pub fn is_deduction(self) -> bool {
        matches!(self, LineKind::CoreCredit | LineKind::Discount)
    }
}

impl Line {
    /// A line with the fields every kind has; set the others by name.
    pub fn new(
        kind: LineKind,
        description: impl Into<String>,
        quantity: Quantity,
        unit_price: Cents,
    ) -> Line {
        Line {
            kind,
            description: description.into(),
            quantity,
            unit_price,
            taxed: false,
            condition: None,
            part_number: None,
            supplier: None,
            provider: None,
        }
    }

    /// Price times quantity, to the cent, halves away from zero.
    pub fn amount(&self) -> Result<Cents, MoneyError> {
        self.unit_price.times(self.quantity)
    }

    /// Refuses what a customer could not follow. `number` is the position of the line, from 1.
    pub fn check(&self, number: usize) -> Result<(), MoneyError> {
        let line = number;
        if self.description.trim().is_empty() {
            return Err(MoneyError::NoDescription { line });
        }
        if self.kind == LineKind::Part && self.condition.is_none() {
            return Err(MoneyError::NoCondition { line });
        }
        if self.kind == LineKind::Sublet && is_blank(self.provider.as_deref()) {
            return Err(MoneyError::NoProvider { line });
        }
        match (self.kind.is_deduction(), self.unit_price.0) {
            (false, ..0) => Err(MoneyError::NegativePrice { line }),
            (true, 1..) => Err(MoneyError::PositiveDeduction { line }),
            _ => Ok(()),
        }
    }
}

fn is_blank(text: Option<&str>) -> bool {
    text.is_none_or(|t| t.trim().is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_says_what_the_customer_must_know() {
        let line = |kind, price| Line::new(kind, "Relay", Quantity::ONE, Cents(price));
        let part = line(LineKind::Part, 1_890);
        assert_eq!(part.check(3), Err(MoneyError::NoCondition { line: 3 }));
        assert_eq!(Line { condition: Some(Condition::Used), ..part }.check(3), Ok(()));
        let sublet = Line { provider: Some(" ".into()), ..line(LineKind::Sublet, 100) };
        assert_eq!(sublet.check(1), Err(MoneyError::NoProvider { line: 1 }));
        assert_eq!(line(LineKind::Labour, -1).check(2), Err(MoneyError::NegativePrice { line: 2 }));
        assert_eq!(line(LineKind::Discount, 1).check(2), Err(MoneyError::PositiveDeduction { line: 2 }));
        assert_eq!(line(LineKind::CoreCredit, -4_000).check(2), Ok(()));
        let unnamed = Line { description: "  ".into(), ..line(LineKind::Fee, 5) };
        assert_eq!(unnamed.check(1), Err(MoneyError::NoDescription { line: 1 }));
    }
}
