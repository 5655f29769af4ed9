//! A diagnosis as a record keeps it: no floats, numbers as decimal strings with six significant digits.

use serde_json::Value;

use crate::answer::diagnosis::Diagnosis;
use crate::error::CircuitError;

impl Diagnosis {
    /// The result as JSON without floating-point numbers.
    ///
    /// # Errors
    /// [`CircuitError::Unreadable`] if it can't be written as JSON.
    pub fn frozen(&self) -> Result<Value, CircuitError> {
        let value =
            serde_json::to_value(self).map_err(|error| CircuitError::Unreadable(error.to_string()))?;
        Ok(without_floats(value))
    }
}

fn without_floats(value: Value) -> Value {
    match value {
        Value::Number(number) if number.is_f64() => {
            Value::String(number.as_f64().map_or_else(String::new, six_digits))
        }
        Value::Array(list) => Value::Array(list.into_iter().map(without_floats).collect()),
        Value::Object(map) => {
            Value::Object(map.into_iter().map(|(key, value)| (key, without_floats(value))).collect())
        }
        other => other,
    }
}

/// Decimal notation with six significant digits and no trailing zeros: `0.0123457`, `12.4`, `1000000`.
#[must_use]
pub fn six_digits(number: f64) -> String {
    if number == 0.0 || !number.is_finite() {
        return "0".to_owned();
    }
    let scientific = format!("{number:.5e}");
    let exponent = scientific.split('e').nth(1).and_then(|text| text.parse::<i32>().ok()).unwrap_or(0);
    let places = usize::try_from(5 - exponent).unwrap_or(0).min(18);
    let rounded = scientific.parse::<f64>().unwrap_or(number);
    let text = format!("{rounded:.places$}");
    if !text.contains('.') {
        return text;
    }
    let trimmed = text.trim_end_matches('0').trim_end_matches('.');
    if trimmed.is_empty() || trimmed == "-" || trimmed == "-0" { "0".to_owned() } else { trimmed.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn six_significant_digits() {
        for (number, text) in [
            (0.0, "0"),
            (12.4, "12.4"),
            (0.012_345_678, "0.0123457"),
            (1e6, "1000000"),
            (-4.123_456_7, "-4.12346"),
            (999_999.7, "1000000"),
            (1e-30, "0"),
        ] {
            assert_eq!(six_digits(number), text);
        }
    }
}
