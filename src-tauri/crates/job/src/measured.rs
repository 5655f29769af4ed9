//! A measured value as it was typed: decimal point or comma, `OL`, yes or no.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use thiserror::Error;
use ts_rs::TS;

/// A value in canonical form. The digits are kept as the meter showed them, because they say how fine it read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Measured {
    /// A decimal, "12.40".
    Number(String),
    /// Over the meter's limit.
    OverLimit,
    /// Yes.
    Yes,
    /// No.
    No,
}

/// Why a typed value can't be kept.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum MeasuredError {
    /// Not a number.
    #[error("\"{0}\" is not a value a meter shows: type digits with one decimal point, or OL")]
    NotANumber(String),
    /// Beyond what a hand-held meter can show.
    #[error(
        "{value} {unit} is beyond what a hand-held meter can show ({limit} {unit} at most): check the unit and the decimal point"
    )]
    OutOfRange {
        /// Value as typed.
        value: String,
        /// Unit.
        unit: String,
        /// Largest value accepted.
        limit: String,
    },
    /// Unit unknown, or it doesn't fit the value.
    #[error("\"{0}\" is not a unit of this reading: choose one of the list")]
    Unit(String),
}

/// Unit as a meter shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema, TS)]
#[ts(export)]
pub enum Unit {
    /// Millivolts.
    #[serde(rename = "mV")]
    Millivolt,
    /// Volts.
    #[serde(rename = "V")]
    Volt,
    /// Ohms.
    #[serde(rename = "ohm")]
    Ohm,
    /// Kilohms.
    #[serde(rename = "kohm")]
    Kilohm,
    /// Megohms.
    #[serde(rename = "Mohm")]
    Megohm,
    /// Milliamps.
    #[serde(rename = "mA")]
    Milliamp,
    /// Amps.
    #[serde(rename = "A")]
    Amp,
    /// Percent, of a duty cycle.
    #[serde(rename = "percent")]
    Percent,
    /// Hertz.
    #[serde(rename = "Hz")]
    Hertz,
    /// No unit: a look or a question, answered yes or no.
    #[serde(rename = "yes_no")]
    YesNo,
}

impl Unit {
    /// Every unit, in the order of the screen.
    pub const ALL: [Self; 10] = [
        Self::Millivolt,
        Self::Volt,
        Self::Ohm,
        Self::Kilohm,
        Self::Megohm,
        Self::Milliamp,
        Self::Amp,
        Self::Percent,
        Self::Hertz,
        Self::YesNo,
    ];

    /// As it stands in a record.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Millivolt => "mV",
            Self::Volt => "V",
            Self::Ohm => "ohm",
            Self::Kilohm => "kohm",
            Self::Megohm => "Mohm",
            Self::Milliamp => "mA",
            Self::Amp => "A",
            Self::Percent => "percent",
            Self::Hertz => "Hz",
            Self::YesNo => "yes_no",
        }
    }

    /// One unit in volts, ohms, amps, percent or hertz; nothing for yes and no.
    #[must_use]
    pub const fn in_base(self) -> Option<f64> {
        match self {
            Self::Millivolt | Self::Milliamp => Some(1e-3),
            Self::Volt | Self::Ohm | Self::Amp | Self::Percent | Self::Hertz => Some(1.0),
            Self::Kilohm => Some(1e3),
            Self::Megohm => Some(1e6),
            Self::YesNo => None,
        }
    }

    /// Largest value accepted. 1,000 V DC and 100 Mohm are common upper ranges of hand-held meters; 2,000 A of clamp
    /// meters (common practice, no source).
    const fn limit(self) -> f64 {
        match self {
            Self::Millivolt => 1_000_000.0,
            Self::Volt => 1_000.0,
            Self::Ohm => 100_000_000.0,
            Self::Kilohm => 100_000.0,
            Self::Megohm | Self::Percent => 100.0,
            Self::Hertz => 1_000_000.0,
            Self::Milliamp => 2_000_000.0,
            Self::Amp => 2_000.0,
            Self::YesNo => 0.0,
        }
    }
}

impl Measured {
    /// Reads what was typed.
    ///
    /// # Errors
    /// Text that no meter shows, a size beyond what a hand-held meter can show, a unit that doesn't fit.
    pub fn parse(typed: &str, unit: Unit) -> Result<Measured, MeasuredError> {
        let text: String = typed.trim().replace('\u{2212}', "-");
        match (unit, text.to_ascii_lowercase().as_str()) {
            (Unit::YesNo, "yes") => return Ok(Measured::Yes),
            (Unit::YesNo, "no") => return Ok(Measured::No),
            (Unit::YesNo, _) => return Err(MeasuredError::Unit(unit.code().to_owned())),
            (_, "ol" | "o.l" | "o.l." | ".ol" | "0l" | "0.l" | "-ol") => return Ok(Measured::OverLimit),
            _ => {}
        }
        let number = decimal(&text).ok_or_else(|| MeasuredError::NotANumber(typed.to_owned()))?;
        let size: f64 = number.parse().map_err(|_| MeasuredError::NotANumber(typed.to_owned()))?;
        let limit = unit.limit();
        if size.abs() > limit {
            return Err(MeasuredError::OutOfRange {
                value: typed.trim().to_owned(),
                unit: unit.code().to_owned(),
                limit: format!("{limit}"),
            });
        }
        Ok(Measured::Number(number))
    }

    /// Canonical text as it stands in a record.
    pub fn text(&self) -> &str {
        match self {
            Measured::Number(text) => text,
            Measured::OverLimit => "OL",
            Measured::Yes => "yes",
            Measured::No => "no",
        }
    }
}

/// The value of a record in volts, ohms, amps, percent or hertz; `None` for OL, yes, no.
pub fn in_base_unit(value: &str, unit: Unit) -> Option<f64> {
    value.parse::<f64>().ok().zip(unit.in_base()).map(|(value, base)| value * base)
}

/// Volts, ohms, amps or percent in the reading's unit.
pub fn from_base_unit(value: f64, unit: Unit) -> Option<f64> {
    unit.in_base().map(|base| value / base)
}

/// One unit of the last digit shown, in volts, ohms, amps, percent or hertz ("12.40" V: 0.01).
pub fn last_digit(value: &str, unit: Unit) -> Option<f64> {
    let decimals = value.split_once('.').map_or(0, |(_, d)| d.len());
    let exponent = i32::try_from(decimals).ok()?;
    Some(unit.in_base()? * 10f64.powi(-exponent))
}

/// Digits with at most one decimal point or comma and a leading sign; `-0.00` loses its sign, since no meter means it.
fn decimal(text: &str) -> Option<String> {
    let (negative, bare) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    if groups_thousands(bare) {
        return None;
    }
    let point = bare.replace(',', ".");
    let (whole, decimals) = point.split_once('.').unwrap_or((point.as_str(), ""));
    let digits = |part: &str| part.bytes().all(|b| b.is_ascii_digit());
    if !digits(whole) || !digits(decimals) || (whole.is_empty() && decimals.is_empty()) || point.len() > 20 {
        return None;
    }
    let whole = whole.trim_start_matches('0');
    let whole = if whole.is_empty() { "0" } else { whole };
    let body = if decimals.is_empty() { whole.to_owned() } else { format!("{whole}.{decimals}") };
    let zero = body.bytes().all(|b| b == b'0' || b == b'.');
    Some(if negative && !zero { format!("-{body}") } else { body })
}

/// "12,345" is twelve thousand to one reader and twelve and a bit to another: it is refused, not guessed.
fn groups_thousands(bare: &str) -> bool {
    let Some((whole, rest)) = bare.split_once(',') else { return false };
    let digits = |part: &str| part.bytes().all(|b| b.is_ascii_digit());
    (1..=3).contains(&whole.len())
        && rest.len() == 3
        && digits(whole)
        && digits(rest)
        && !whole.starts_with('0')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(typed: &str, unit: &str, expected: &str) {
        let unit = Unit::ALL.into_iter().find(|known| known.code() == unit).unwrap();
        let got = match Measured::parse(typed, unit) {
            Ok(value) => value.text().to_owned(),
            Err(error) => format!("! {error}"),
        };
        assert!(got.starts_with(expected), "{typed} {}: {got}", unit.code());
    }

    #[test]
    fn typed_values() {
        check("12,4", "V", "12.4");
        check(" 12.40 ", "V", "12.40");
        check("OL", "ohm", "OL");
        check("0.L", "kohm", "OL");
        check("-0.00", "V", "0.00");
        check("-0.05", "V", "-0.05");
        check("\u{2212}3", "mV", "-3");
        check("007", "ohm", "7");
        check(".5", "V", "0.5");
        check("yes", "yes_no", "yes");
        check("yes", "V", "! \"yes\" is not a value");
        check("1e9", "V", "! \"1e9\" is not a value");
        check("1000000000", "V", "! 1000000000 V is beyond");
        check("1.2.3", "V", "! ");
        check("1,234.5", "V", "! ");
        check("12,345", "V", "! \"12,345\" is not a value");
        check("-12,345", "V", "! ");
        check("0,345", "V", "0.345");
        check("12,3450", "V", "12.3450");
        check("", "V", "! ");
        check("-", "V", "! ");
        check("12.4", "yes_no", "! \"yes_no\" is not a unit");
        check("١٢", "V", "! ");
        check("NaN", "V", "! ");
        check("inf", "V", "! ");
    }

    #[test]
    fn a_units_code_is_how_records_spell_it() {
        for unit in Unit::ALL {
            assert_eq!(serde_json::to_value(unit).unwrap(), unit.code());
        }
    }

    #[test]
    fn the_last_digit_says_how_fine_the_meter_read() {
        assert_eq!(last_digit("12.40", Unit::Volt), Some(0.01));
        assert_eq!(last_digit("12.4", Unit::Millivolt).map(|v| (v * 1e7).round()), Some(1000.0));
        assert_eq!(last_digit("150", Unit::Ohm), Some(1.0));
    }
}
