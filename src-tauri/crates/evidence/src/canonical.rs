//! The one way to write a JSON value (RFC 8785), narrowed to what a record may hold.

use serde::Serialize;
use serde_json::Value;

use crate::EvidenceError;

/// Largest integer every JSON reader keeps exactly: 2^53 - 1 (RFC 8259 section 6, RFC 7493 section 2.2).
pub const MAX_INTEGER: u64 = (1 << 53) - 1;

/// The canonical bytes (RFC 8785) of `value`, after [`check`].
///
/// # Errors
/// What [`check`] refuses, and values that have no JSON form.
pub fn bytes<T: Serialize>(value: &T) -> Result<Vec<u8>, EvidenceError> {
    let value = serde_json::to_value(value).map_err(|cause| EvidenceError::NotJson(cause.to_string()))?;
    check(&value)?;
    serde_jcs::to_vec(&value).map_err(|cause| EvidenceError::NotJson(cause.to_string()))
}

/// Reads canonical bytes; refuses every other spelling of the same value, so duplicate keys and blanks too.
///
/// # Errors
/// [`EvidenceError::NotJson`], [`EvidenceError::NotCanonical`], and what [`check`] refuses.
pub fn parse(text: &[u8]) -> Result<Value, EvidenceError> {
    let value = serde_json::from_slice(text).map_err(|cause| EvidenceError::NotJson(cause.to_string()))?;
    if bytes(&value)? == text { Ok(value) } else { Err(EvidenceError::NotCanonical) }
}

/// Refuses numbers that aren't exact integers and keys that aren't ASCII.
///
/// # Errors
/// [`EvidenceError::InexactNumber`], [`EvidenceError::KeyNotAscii`].
pub fn check(value: &Value) -> Result<(), EvidenceError> {
    match value {
        Value::Number(number) => {
            let size = number.as_u64().or_else(|| number.as_i64().map(i64::unsigned_abs));
            if size.is_some_and(|size| size <= MAX_INTEGER) {
                Ok(())
            } else {
                Err(EvidenceError::InexactNumber)
            }
        }
        Value::Array(items) => items.iter().try_for_each(check),
        Value::Object(fields) => fields.iter().try_for_each(|(key, value)| {
            if key.is_ascii() { check(value) } else { Err(EvidenceError::KeyNotAscii(key.clone())) }
        }),
        Value::Null | Value::Bool(_) | Value::String(_) => Ok(()),
    }
}
