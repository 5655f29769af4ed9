//! A phrase in the languages of the app.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One phrase in English and in Spanish.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Text {
    /// English.
    pub en: String,
    /// Spanish.
    pub es: String,
}
