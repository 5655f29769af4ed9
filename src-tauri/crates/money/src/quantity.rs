//! Pieces and hours, to the thousandth.

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::MoneyError;
use crate::typed::Typed;

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

    /// The stored form, in its only spelling.
    fn try_from(text: String) -> Result<Quantity, MoneyError> {
        match text.parse::<Quantity>() {
            Ok(quantity) if quantity.to_string() == text => Ok(quantity),
            _ => Err(MoneyError::NotCanonical { text }),
        }
    }
}

impl FromStr for Quantity {
    type Err = MoneyError;

    /// What a person types: `2`, `1.25`, `0,75`; at most three decimals, not below zero.
    fn from_str(text: &str) -> Result<Quantity, MoneyError> {
        let scaled = Typed::decimal(text, 3)?.scaled(3).ok_or(MoneyError::TooLarge)?;
        if scaled < 0 {
            return Err(MoneyError::NotAnAmount { text: text.to_owned() });
        }
        u32::try_from(scaled).map(Quantity).map_err(|_| MoneyError::TooLarge)
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
        for bad in ["-1", "1.2345", "", "5000000", "1,000.5", "x"] {
            assert!(bad.parse::<Quantity>().is_err(), "{bad}");
        }
        assert!(serde_json::from_str::<Quantity>("\"1.250\"").is_err());
    }
}
