//! Settings as JSON: what can't be read or written is named, and is never taken for a record.

use crate::ApiError;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// A setting on its way into the store.
///
/// # Errors
/// [`ApiError::Setting`] when it can't be written as JSON.
pub(crate) fn written<T: Serialize>(name: &'static str, value: &T) -> Result<Value, ApiError> {
    serde_json::to_value(value).map_err(|error| ApiError::Setting { name, detail: error.to_string() })
}

/// A setting from the store.
///
/// # Errors
/// [`ApiError::Setting`] when it isn't what this version keeps under that name.
pub(crate) fn read<T: DeserializeOwned>(name: &'static str, value: Value) -> Result<T, ApiError> {
    serde_json::from_value(value).map_err(|error| ApiError::Setting { name, detail: error.to_string() })
}
