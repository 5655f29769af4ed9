//! Readings that don't go together.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Readings that don't go together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Doubt {
    /// Sort.
    pub code: DoubtCode,
    /// The observations.
    pub observations: Vec<String>,
    /// Which of them to repeat first.
    pub repeat: Option<String>,
}

/// Sort of doubt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum DoubtCode {
    /// No single cause can show both.
    Contradiction,
    /// No single cause fits all readings, though every two go together.
    NoCauseFitsAll,
    /// No cause of this circuit can show this reading.
    NotInThisCircuit,
}
