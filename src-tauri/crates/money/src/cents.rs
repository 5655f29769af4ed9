//! An amount of money in whole cents.

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::MoneyError;
use crate::quantity::Quantity;
use crate::rounding::divide_half_away;
use crate::typed::Typed;

/// Minor units (cents, centavos, céntimos) of a currency with two decimals. Arithmetic is checked
/// and never wraps. Stored and sent as a decimal string of minor units (`"12999"` is 129.99),
/// because a JavaScript number can't hold every 64-bit integer.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize, JsonSchema,
)]
#[serde(try_from = "String", into = "String")]
pub struct Cents(pub i64);

impl Cents {
    /// No money.
    pub const ZERO: Cents = Cents(0);

    /// The sum, or [`MoneyError::TooLarge`].
    pub fn plus(self, other: Cents) -> Result<Cents, MoneyError> {
        self.0.checked_add(other.0).map(Cents).ok_or(MoneyError::TooLarge)
    }

    /// The difference, or [`MoneyError::TooLarge`].
    pub fn minus(self, other: Cents) -> Result<Cents, MoneyError> {
        self.0.checked_sub(other.0).map(Cents).ok_or(MoneyError::TooLarge)
    }

    /// This price times a quantity or a number of hours, to the nearest cent, halves away from zero.
    pub fn times(self, quantity: Quantity) -> Result<Cents, MoneyError> {
        let product = i128::from(self.0).checked_mul(i128::from(quantity.thousandths()));
        let cents = product.and_then(|p| divide_half_away(p, 1_000)).ok_or(MoneyError::TooLarge)?;
        Cents::from_wide(cents)
    }

    /// The sum of many amounts, or [`MoneyError::TooLarge`].
    pub fn sum(amounts: impl IntoIterator<Item = Cents>) -> Result<Cents, MoneyError> {
        amounts.into_iter().try_fold(Cents::ZERO, Cents::plus)
    }

    /// Whole cents nearest to an expectation in major units (dollars), halves away from zero.
    /// The edge between [`crate::programming`] and the books.
    pub fn from_expectation(major: f64) -> Result<Cents, MoneyError> {
        let cents = (major * 100.0).round();
        // 2^53: beyond it an f64 no longer holds every whole number.
        if !cents.is_finite() || cents.abs() > 9_007_199_254_740_992.0 {
            return Err(MoneyError::TooLarge);
        }
        #[allow(clippy::cast_possible_truncation)] // bounded just above
        Ok(Cents(cents as i64))
    }

    /// The amount in words of a locale: `group` between thousands, `decimal` before the cents.
    pub fn grouped(self, group: char, decimal: char) -> String {
        let minor = self.0.unsigned_abs();
        let sign = if self.0 < 0 { "-" } else { "" };
        format!("{sign}{}{decimal}{:02}", in_threes(minor / 100, group), minor % 100)
    }

    pub(crate) fn from_wide(cents: i128) -> Result<Cents, MoneyError> {
        i64::try_from(cents).map(Cents).map_err(|_| MoneyError::TooLarge)
    }
}

impl fmt::Display for Cents {
    /// `1,234.50`, without a currency sign: the currency belongs to the shop's region.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.grouped(',', '.'))
    }
}

impl From<Cents> for String {
    fn from(cents: Cents) -> String {
        cents.0.to_string()
    }
}

impl TryFrom<String> for Cents {
    type Error = MoneyError;

    /// The stored form: one whole number of minor units, in its only spelling (no `+5`, `05`, `-0`).
    fn try_from(text: String) -> Result<Cents, MoneyError> {
        match text.parse::<i64>() {
            Ok(minor) if minor.to_string() == text => Ok(Cents(minor)),
            _ => Err(MoneyError::NotCanonical { text }),
        }
    }
}

impl FromStr for Cents {
    type Err = MoneyError;

    /// What a person types, in major units: `12.50`, `12,50`, `1,234.50`, `1.234,50`, `$12`, `-3`.
    /// One point before three digits (`1.234`) is refused: it means different sums in different
    /// countries. One comma before three digits is a thousands separator, as prices have two decimals.
    fn from_str(text: &str) -> Result<Cents, MoneyError> {
        let typed = Typed::amount(text)?;
        let minor = typed.scaled(2).ok_or(MoneyError::TooLarge)?;
        Cents::from_wide(minor)
    }
}

fn in_threes(whole: u64, group: char) -> String {
    let digits = whole.to_string();
    let mut out = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            out.push(group);
        }
        out.push(digit);
    }
    out
}
