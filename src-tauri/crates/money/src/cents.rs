//! An amount of money in whole cents.

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::MoneyError;
use crate::quantity::Quantity;
use crate::rounding::divide_half_away;
use crate::typed::{Field, Marks, read_at_home};

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
    /// The most a person can enter and a line can come to, either way: 10,000,000.00. More is a slip of the
    /// finger. What is on record already is read whatever its size.
    pub const MOST: Cents = Cents(1_000_000_000);

    /// An amount that can't be below zero, as typed: the price of a part, a core charge, a quote, a bill, a
    /// labor rate. Read as [`Cents::from_str`] reads it.
    ///
    /// # Errors
    /// Those of [`Cents::from_str`], and [`MoneyError::BelowZero`].
    pub fn price(text: &str) -> Result<Cents, MoneyError> {
        Cents::price_at_home(text, None)
    }

    /// The same where it is known how amounts are written at home.
    ///
    /// # Errors
    /// Those of [`Cents::price`].
    pub fn price_at_home(text: &str, home: Option<Marks>) -> Result<Cents, MoneyError> {
        match Cents::typed(text, home)? {
            below if below < Cents::ZERO => Err(MoneyError::BelowZero { text: text.to_owned() }),
            price => Ok(price),
        }
    }

    /// An amount as typed where it is known how amounts are written at home: `1.250` is 1250 in Spain and refused in the
    /// United States, with `1,250` it is the other way round.
    ///
    /// # Errors
    /// Those of [`Cents::from_str`].
    pub fn typed(text: &str, home: Option<Marks>) -> Result<Cents, MoneyError> {
        let minor = read_at_home(text, Field::Amount, home)?;
        let over = |_| MoneyError::OverLimit { text: text.to_owned(), most: Cents::MOST.to_string() };
        Cents::from_wide(minor).and_then(Cents::within_limit).map_err(over)
    }

    /// Refuses an amount further from zero than [`Cents::MOST`].
    ///
    /// # Errors
    /// [`MoneyError::OverLimit`].
    pub fn within_limit(self) -> Result<Cents, MoneyError> {
        if self.0.unsigned_abs() <= Cents::MOST.0.unsigned_abs() {
            return Ok(self);
        }
        Err(MoneyError::OverLimit { text: self.to_string(), most: Cents::MOST.to_string() })
    }

    /// The sum, or [`MoneyError::TooLarge`].
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`].
    pub fn plus(self, other: Cents) -> Result<Cents, MoneyError> {
        self.0.checked_add(other.0).map(Cents).ok_or(MoneyError::TooLarge)
    }

    /// The difference, or [`MoneyError::TooLarge`].
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`].
    pub fn minus(self, other: Cents) -> Result<Cents, MoneyError> {
        self.0.checked_sub(other.0).map(Cents).ok_or(MoneyError::TooLarge)
    }

    /// This price times a quantity or a number of hours, to the nearest cent, halves away from zero.
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`] if the product doesn't fit.
    pub fn times(self, quantity: Quantity) -> Result<Cents, MoneyError> {
        let product = i128::from(self.0).checked_mul(i128::from(quantity.thousandths()));
        let cents = product.and_then(|p| divide_half_away(p, 1_000)).ok_or(MoneyError::TooLarge)?;
        Cents::from_wide(cents)
    }

    /// The sum of many amounts, or [`MoneyError::TooLarge`].
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`].
    pub fn sum(amounts: impl IntoIterator<Item = Cents>) -> Result<Cents, MoneyError> {
        amounts.into_iter().try_fold(Cents::ZERO, Cents::plus)
    }

    /// Whole cents nearest to an expectation in major units (dollars), halves away from zero.
    /// The edge between [`crate::programming`] and the books.
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`] beyond 2^53 cents, where a float no longer holds every whole number, and for what is
    /// no number.
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

    /// Major units (dollars) for an expectation.
    #[allow(clippy::cast_precision_loss)] // amounts of a repair are far below 2^53 cents
    pub(crate) fn major(self) -> f64 {
        self.0 as f64 / 100.0
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

    /// What a person types, in major units (dollars), at most two decimals: `12.50`, `12,50`, `1,234.50`,
    /// `1.234,50`, `$12`, `-3`. One mark before exactly three digits (`1.234`, `1,234`) is refused in this
    /// field and in every other one: it means different sums in different countries. At most [`Cents::MOST`]
    /// either way.
    ///
    /// # Errors
    /// [`MoneyError::NotAnAmount`], [`MoneyError::AmbiguousSeparator`], [`MoneyError::BadGrouping`],
    /// [`MoneyError::TooManyDecimals`], [`MoneyError::OverLimit`].
    fn from_str(text: &str) -> Result<Cents, MoneyError> {
        Cents::typed(text, None)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::error::MoneyError::*;

    #[test]
    fn reads_what_people_type() {
        for (typed, minor) in [
            ("12.50", 1_250),
            ("12,50", 1_250),
            ("12.5", 1_250),
            (" $ 12 ", 1_200),
            ("12,50 €", 1_250),
            ("1,234.50", 123_450),
            ("1.234,50", 123_450),
            ("10,000,000.00", 1_000_000_000),
            ("-10000000", -1_000_000_000),
            ("1.234.567", 123_456_700),
            ("1,234,567.89", 123_456_789),
            (".50", 50),
            ("-3", -300),
            ("\u{2212}0.01", -1),
            ("-0.00", 0),
            ("007", 700),
        ] {
            assert_eq!(typed.parse(), Ok(Cents(minor)), "{typed}");
        }
    }

    #[test]
    fn refuses_what_it_cannot_read_and_says_why() {
        let text = |t: &str| t.to_owned();
        let over = |t: &str| OverLimit { text: text(t), most: text("10,000,000.00") };
        for (typed, error) in [
            ("", NotAnAmount { text: text("") }),
            ("7 %", NotAnAmount { text: text("7 %") }),
            (
                "1,234",
                AmbiguousSeparator { text: text("1,234"), thousands: text("1234.00"), decimal: text("1.23") },
            ),
            ("12.3456", TooManyDecimals { text: text("12.3456"), most: 2 }),
            ("12,34,567", BadGrouping { text: text("12,34,567") }),
            ("10000000.01", over("10000000.01")),
            ("-10,000,000.01", over("-10,000,000.01")),
            ("99999999999999999999", over("99999999999999999999")),
            (
                "9999999999999999999999999999999999999999999",
                over("9999999999999999999999999999999999999999999"),
            ),
        ] {
            assert_eq!(typed.parse::<Cents>(), Err(error), "{typed}");
        }
        assert_eq!(
            over("10000000.01").to_string(),
            "\"10000000.01\" is over 10,000,000.00, the most that can be entered: check the digits and the \
             decimal mark"
        );
    }

    #[test]
    fn a_price_is_never_below_zero() {
        for (typed, minor) in [("0", 0), ("-0.00", 0), ("$1,234.56", 123_456), ("10000000", 1_000_000_000)] {
            assert_eq!(Cents::price(typed), Ok(Cents(minor)), "{typed}");
        }
        for typed in ["-5.00", "-0.01", "$ -5"] {
            assert_eq!(Cents::price(typed), Err(BelowZero { text: typed.into() }), "{typed}");
        }
        assert!(Cents::price("1,234").is_err());
    }

    #[test]
    fn shows_thousands_and_both_cents() {
        for (minor, shown) in [
            (0, "0.00"),
            (-5, "-0.05"),
            (123_450, "1,234.50"),
            (-123_456_789, "-1,234,567.89"),
            (i64::MIN, "-92,233,720,368,547,758.08"),
        ] {
            assert_eq!(Cents(minor).to_string(), shown);
        }
        assert_eq!(Cents(123_450).grouped('.', ','), "1.234,50");
    }

    #[test]
    fn is_stored_as_a_string_of_minor_units_in_one_spelling() {
        assert_eq!(serde_json::to_string(&Cents(12_999)).unwrap(), "\"12999\"");
        assert_eq!(serde_json::from_str::<Cents>("\"-1\"").unwrap(), Cents(-1));
        for bad in ["\"+5\"", "\"05\"", "\"-0\"", "\"1.5\"", "5", "\"\""] {
            assert!(serde_json::from_str::<Cents>(bad).is_err(), "{bad}");
        }
        let schema = serde_json::to_value(schemars::schema_for!(Cents)).unwrap();
        assert_eq!(schema["type"], "string");
    }

    #[test]
    fn rounds_price_times_hours_away_from_zero_and_never_wraps() {
        let hours = |t: &str| t.parse::<Quantity>().unwrap();
        assert_eq!(Cents(12_500).times(hours("1.25")), Ok(Cents(15_625)));
        assert_eq!(Cents(250).times(hours("0.001")), Ok(Cents(0)));
        assert_eq!(Cents(500).times(hours("0.001")), Ok(Cents(1)));
        assert_eq!(Cents(2_500).times(hours("0.001")), Ok(Cents(3)));
        assert_eq!(Cents(-2_500).times(hours("0.001")), Ok(Cents(-3)));
        assert_eq!(Cents(i64::MAX).times(hours("2")), Err(TooLarge));
        assert_eq!(Cents(i64::MAX).plus(Cents(1)), Err(TooLarge));
        assert_eq!(Cents::from_expectation(f64::NAN), Err(TooLarge));
        assert_eq!(Cents::from_expectation(163.472_917), Ok(Cents(16_347)));
    }
}
