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
    #[serde(rename = "labour")]
    Labor,
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Subtotal {
    /// Parts and their cores.
    Parts,
    /// Diagnosis, labor, programming in the shop.
    #[serde(rename = "labour")]
    Labor,
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

/// One line. `quantity` is hours where the kind is diagnosis, labor or programming (then `unit_price`
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
    /// Every kind.
    pub const ALL: [LineKind; 10] = [
        LineKind::Diagnosis,
        LineKind::Labor,
        LineKind::Programming,
        LineKind::Part,
        LineKind::CoreCharge,
        LineKind::CoreCredit,
        LineKind::Sublet,
        LineKind::Supplies,
        LineKind::Fee,
        LineKind::Discount,
    ];

    /// The subtotal this kind counts in.
    pub fn subtotal(self) -> Subtotal {
        match self {
            LineKind::Part | LineKind::CoreCharge | LineKind::CoreCredit => Subtotal::Parts,
            LineKind::Diagnosis | LineKind::Labor | LineKind::Programming => Subtotal::Labor,
            LineKind::Sublet => Subtotal::Sublet,
            LineKind::Supplies | LineKind::Fee | LineKind::Discount => Subtotal::Other,
        }
    }

    /// Whether the line lowers the total.
    pub fn is_deduction(self) -> bool {
        matches!(self, LineKind::CoreCredit | LineKind::Discount)
    }
}

impl Condition {
    /// Its code, as it stands in records.
    pub fn code(self) -> &'static str {
        match self {
            Condition::New => "new",
            Condition::Used => "used",
            Condition::Rebuilt => "rebuilt",
            Condition::Reconditioned => "reconditioned",
        }
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
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`] if the product doesn't fit.
    pub fn amount(&self) -> Result<Cents, MoneyError> {
        self.unit_price.times(self.quantity)
    }

    /// Refuses what a customer could not follow, and what can only be a slip: price and amount lie within
    /// [`Cents::MOST`] either way, at or below zero for a discount and a core credit, at or above zero for
    /// every other kind.
    ///
    /// # Errors
    /// [`MoneyError::NoDescription`], [`MoneyError::NoCondition`], [`MoneyError::NoProvider`],
    /// [`MoneyError::NegativePrice`], [`MoneyError::PositiveDeduction`], [`MoneyError::OverLimit`],
    /// [`MoneyError::TooLarge`]. Say which line with [`MoneyError::on_line`].
    pub fn check(&self) -> Result<(), MoneyError> {
        if self.description.trim().is_empty() {
            return Err(MoneyError::NoDescription);
        }
        if self.kind == LineKind::Part && self.condition.is_none() {
            return Err(MoneyError::NoCondition);
        }
        if self.kind == LineKind::Sublet && is_blank(self.provider.as_deref()) {
            return Err(MoneyError::NoProvider);
        }
        match (self.kind.is_deduction(), self.unit_price.0) {
            (false, ..0) => return Err(MoneyError::NegativePrice),
            (true, 1..) => return Err(MoneyError::PositiveDeduction),
            _ => {}
        }
        self.unit_price.within_limit()?;
        self.amount()?.within_limit().map(drop)
    }
}

fn is_blank(text: Option<&str>) -> bool {
    text.is_none_or(|t| t.trim().is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(kind: LineKind, thousandths: u32, price: i64) -> Line {
        Line {
            condition: Some(Condition::Used),
            provider: Some("Harbor Lane Motors".into()),
            ..Line::new(kind, "Relay", Quantity::from_thousandths(thousandths), Cents(price))
        }
    }

    #[test]
    fn a_line_says_what_the_customer_must_know() {
        let part = line(LineKind::Part, 1_000, 1_890);
        assert_eq!(part.check(), Ok(()));
        assert_eq!(Line { condition: None, ..part }.check(), Err(MoneyError::NoCondition));
        let sublet = Line { provider: Some(" ".into()), ..line(LineKind::Sublet, 1_000, 100) };
        assert_eq!(sublet.check(), Err(MoneyError::NoProvider));
        let unnamed = Line { description: "  ".into(), ..line(LineKind::Fee, 1_000, 5) };
        assert_eq!(unnamed.check(), Err(MoneyError::NoDescription));
    }

    #[test]
    fn the_sign_of_a_price_follows_from_its_kind() {
        for kind in [LineKind::Labor, LineKind::Part, LineKind::CoreCharge, LineKind::Sublet, LineKind::Fee] {
            assert_eq!(line(kind, 1_000, -1).check(), Err(MoneyError::NegativePrice), "{kind:?}");
            assert_eq!(line(kind, 1_000, 0).check(), Ok(()), "{kind:?}");
        }
        for kind in [LineKind::Discount, LineKind::CoreCredit] {
            assert_eq!(line(kind, 1_000, 1).check(), Err(MoneyError::PositiveDeduction), "{kind:?}");
            assert_eq!(line(kind, 1_000, 0).check(), Ok(()), "{kind:?}");
        }
    }

    #[test]
    fn price_and_amount_stay_within_ten_million_either_way() {
        let over =
            |text: &str| Err(MoneyError::OverLimit { text: text.into(), most: "10,000,000.00".into() });
        for (kind, thousandths, price, checked) in [
            (LineKind::Labor, 1_000, 1_000_000_000, Ok(())),
            (LineKind::Discount, 1_000, -1_000_000_000, Ok(())),
            (LineKind::Labor, 1_000, 1_000_000_001, over("10,000,000.01")),
            (LineKind::Discount, 1_000, -1_000_000_001, over("-10,000,000.01")),
            // The price alone, and the amount alone.
            (LineKind::Part, 1, 1_000_000_001, over("10,000,000.01")),
            (LineKind::Part, 2_000, 500_000_001, over("10,000,000.02")),
            (LineKind::CoreCredit, 2_000, -500_000_001, over("-10,000,000.02")),
            (LineKind::Fee, 1_000, i64::MAX, over("92,233,720,368,547,758.07")),
            (LineKind::Discount, 1_000, i64::MIN, over("-92,233,720,368,547,758.08")),
        ] {
            assert_eq!(line(kind, thousandths, price).check(), checked, "{kind:?} {thousandths} x {price}");
        }
    }
}
