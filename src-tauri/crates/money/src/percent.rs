//! Percentages without floats: tax rates, margins, chances of success.

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::MoneyError;
use crate::quantity::{stored_thousandths, thousandths_text};
use crate::typed::{Field, read};

/// A share between 0 and 100 %, in parts per hundred thousand: 7.25 % is 7250.
/// Stored as a decimal string of per cent without trailing zeros (`"7.25"`).
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize, JsonSchema,
)]
#[serde(try_from = "String", into = "String")]
pub struct Percent(u32);

/// A sales tax rate.
pub type TaxRate = Percent;

impl Percent {
    /// Nothing.
    pub const ZERO: Percent = Percent(0);
    /// The whole.
    pub const HUNDRED: Percent = Percent(100_000);

    /// From parts per hundred thousand; over 100 % is refused.
    ///
    /// # Errors
    /// [`MoneyError::PercentOverHundred`].
    pub fn from_parts(parts: u32) -> Result<Percent, MoneyError> {
        match parts <= Percent::HUNDRED.0 {
            true => Ok(Percent(parts)),
            false => Err(MoneyError::PercentOverHundred { text: thousandths_text(parts) }),
        }
    }

    /// Parts per hundred thousand.
    pub const fn parts(self) -> u32 {
        self.0
    }

    /// The share as a float between 0 and 1, for expectations only.
    pub fn as_f64(self) -> f64 {
        f64::from(self.0) / 100_000.0
    }
}

impl fmt::Display for Percent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&thousandths_text(self.0))
    }
}

impl From<Percent> for String {
    fn from(percent: Percent) -> String {
        percent.to_string()
    }
}

impl TryFrom<String> for Percent {
    type Error = MoneyError;

    /// The stored form, in its only spelling: a point before the decimals, no zeros at the end.
    fn try_from(text: String) -> Result<Percent, MoneyError> {
        let percent = stored_thousandths(&text).and_then(|parts| Percent::from_parts(parts).ok());
        percent.ok_or(MoneyError::NotCanonical { text })
    }
}

impl FromStr for Percent {
    type Err = MoneyError;

    /// What a person types, in per cent: `7.25`, `7,25 %`, `8.875`; at most three decimals, 0 to 100. No
    /// percentage reaches a thousand, so one mark is the decimal mark, even before three digits.
    ///
    /// # Errors
    /// [`MoneyError::NotAnAmount`], [`MoneyError::BadGrouping`], [`MoneyError::TooManyDecimals`],
    /// [`MoneyError::BelowZero`], [`MoneyError::PercentOverHundred`].
    fn from_str(text: &str) -> Result<Percent, MoneyError> {
        let parts = read(text, Field::Percent)?;
        if parts < 0 {
            return Err(MoneyError::BelowZero { text: text.to_owned() });
        }
        let over = || MoneyError::PercentOverHundred { text: text.to_owned() };
        Percent::from_parts(u32::try_from(parts).map_err(|_| over())?).map_err(|_| over())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_and_shows_per_cent() {
        for (typed, parts, shown) in [
            ("7.25", 7_250, "7.25"),
            ("7,25 %", 7_250, "7.25"),
            ("8.875", 8_875, "8.875"),
            ("100", 100_000, "100"),
        ] {
            let percent: Percent = typed.parse().unwrap();
            assert_eq!((percent.parts(), percent.to_string().as_str()), (parts, shown));
        }
        let text = |t: &str| t.to_owned();
        for (bad, why) in [
            ("100.001", MoneyError::PercentOverHundred { text: text("100.001") }),
            ("1,000.5", MoneyError::PercentOverHundred { text: text("1,000.5") }),
            ("-1", MoneyError::BelowZero { text: text("-1") }),
            ("7.2525", MoneyError::TooManyDecimals { text: text("7.2525"), most: 3 }),
            ("$7", MoneyError::NotAnAmount { text: text("$7") }),
        ] {
            assert_eq!(bad.parse::<Percent>(), Err(why), "{bad}");
        }
        for (stored, parts) in [("\"8.875\"", Some(8_875)), ("\"7.250\"", None), ("\"100.001\"", None)] {
            assert_eq!(serde_json::from_str::<Percent>(stored).ok().map(Percent::parts), parts, "{stored}");
        }
    }
}
