//! Pieces and hours, to the thousandth.

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::MoneyError;
use crate::typed::{Field, read};

/// A quantity of at least zero in whole thousandths: pieces of a part, hours of labour.
/// Stored as a decimal string without trailing zeros (`"1.25"`), so that no float enters a record.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize, JsonSchema,
)]
#[serde(try_from = "String", into = "String")]
pub struct Quantity(u32);

/// Hours of labour or of waiting, to the thousandth of an hour (3.6 s).
pub type Hours = Quantity;

impl Quantity {
    /// One piece, or one hour.
    pub const ONE: Quantity = Quantity(1_000);

    /// The most a person can enter: 1,000,000 pieces or hours.
    pub const MOST: Quantity = Quantity(1_000_000_000);

    /// From whole thousandths: 1250 is 1.25.
    pub const fn from_thousandths(thousandths: u32) -> Quantity {
        Quantity(thousandths)
    }

    /// Whole thousandths.
    pub const fn thousandths(self) -> u32 {
        self.0
    }

    /// The quantity as a float, for expectations only.
    pub fn as_f64(self) -> f64 {
        f64::from(self.0) / 1_000.0
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&thousandths_text(self.0))
    }
}

impl From<Quantity> for String {
    fn from(quantity: Quantity) -> String {
        quantity.to_string()
    }
}

impl TryFrom<String> for Quantity {
    type Error = MoneyError;

    /// The stored form, in its only spelling: a point before the decimals, no separators, no zeros at the end.
    /// Not read as typed text is: in a record `1.125` can only be one number.
    fn try_from(text: String) -> Result<Quantity, MoneyError> {
        stored_thousandths(&text).map(Quantity).ok_or(MoneyError::NotCanonical { text })
    }
}

impl FromStr for Quantity {
    type Err = MoneyError;

    /// What a person types: `2`, `1.25`, `0,75`, `1,250.5`; at most three decimals, not below zero, at most
    /// [`Quantity::MOST`]. One mark before exactly three digits (`1.250`, `1,250`) is refused as in every
    /// other field: write `1.25` or `1250`.
    ///
    /// # Errors
    /// [`MoneyError::NotAnAmount`], [`MoneyError::AmbiguousSeparator`], [`MoneyError::BadGrouping`],
    /// [`MoneyError::TooManyDecimals`], [`MoneyError::BelowZero`], [`MoneyError::OverLimit`].
    fn from_str(text: &str) -> Result<Quantity, MoneyError> {
        let thousandths = read(text, Field::Quantity)?;
        if thousandths < 0 {
            return Err(MoneyError::BelowZero { text: text.to_owned() });
        }
        let quantity = u32::try_from(thousandths).ok().map(Quantity).filter(|q| *q <= Quantity::MOST);
        let over = || MoneyError::OverLimit { text: text.to_owned(), most: Quantity::MOST.to_string() };
        quantity.ok_or_else(over)
    }
}

/// `1250` as `1.25`, `1000` as `1`.
pub(crate) fn thousandths_text(thousandths: u32) -> String {
    let whole = thousandths / 1_000;
    let rest = format!("{:03}", thousandths % 1_000);
    match rest.trim_end_matches('0') {
        "" => whole.to_string(),
        decimals => format!("{whole}.{decimals}"),
    }
}

/// Back from that text, and from no other.
pub(crate) fn stored_thousandths(text: &str) -> Option<u32> {
    let (whole, decimals) = text.split_once('.').unwrap_or((text, ""));
    let digits = decimals.len() <= 3 && decimals.bytes().all(|b| b.is_ascii_digit());
    let thousandths: u32 = format!("{whole}{decimals:0<3}").parse().ok().filter(|_| digits)?;
    (thousandths_text(thousandths) == text).then_some(thousandths)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_and_shows_decimals() {
        for (typed, thousandths, shown) in
            [("2", 2_000, "2"), ("1.25", 1_250, "1.25"), ("0,75", 750, "0.75"), ("0.050", 50, "0.05")]
        {
            let quantity: Quantity = typed.parse().unwrap();
            assert_eq!((quantity.thousandths(), quantity.to_string().as_str()), (thousandths, shown));
            assert_eq!(serde_json::to_string(&quantity).unwrap(), format!("\"{shown}\""));
        }
    }

    #[test]
    fn refuses_what_does_not_fit() {
        for (bad, why) in [
            ("-1", MoneyError::BelowZero { text: "-1".into() }),
            ("1.2345", MoneyError::TooManyDecimals { text: "1.2345".into(), most: 3 }),
            ("", MoneyError::NotAnAmount { text: String::new() }),
            ("1000000.001", MoneyError::OverLimit { text: "1000000.001".into(), most: "1000000".into() }),
            (
                "1,250",
                MoneyError::AmbiguousSeparator {
                    text: "1,250".into(),
                    thousands: "1250".into(),
                    decimal: "1.2500".into(),
                },
            ),
        ] {
            assert_eq!(bad.parse::<Quantity>(), Err(why), "{bad}");
        }
        assert_eq!("1,000.5".parse(), Ok(Quantity(1_000_500)));
    }

    /// Records were written with three decimals before typed text with three was refused.
    #[test]
    fn what_was_recorded_reads_as_before() {
        let stored = |text: &str| serde_json::from_str::<Quantity>(&format!("\"{text}\"")).ok();
        for (text, thousandths) in
            [("1.125", 1_125), ("12.345", 12_345), ("0", 0), ("0.05", 50), ("4294967.295", u32::MAX)]
        {
            assert_eq!(stored(text), Some(Quantity(thousandths)), "{text}");
        }
        for bad in ["1.250", "01", "1,5", ".5", "1.", "-1", "+1", "1.+5", "1.2345", "4294967.296", ""] {
            assert_eq!(stored(bad), None, "{bad}");
        }
    }
}
