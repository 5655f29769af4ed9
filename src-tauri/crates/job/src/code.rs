//! Codes of closed sets: how a value stands in records, in words' keys and on the screen.

use serde::Serialize;
use serde_json::Value;

/// The code under which a value of a closed set stands in records and words; empty for anything that isn't one.
pub fn code<T: Serialize>(value: &T) -> String {
    match serde_json::to_value(value) {
        Ok(Value::String(code)) => code,
        _ => String::new(),
    }
}
