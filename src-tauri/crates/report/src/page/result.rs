//! Reading the result that a finding froze. Older engines wrote less, so everything may be absent.

use serde_json::Value;

/// A number that may be written as a decimal string, as records do.
pub(crate) fn decimal(value: Option<&Value>) -> Option<f64> {
    match value? {
        Value::String(text) => text.parse().ok(),
        other => other.as_f64(),
    }
}

/// The values under a name; none if there are none.
pub(crate) fn list<'a>(value: &'a Value, name: &str) -> &'a [Value] {
    value.get(name).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}
