//! What a verdict rests on: readings, each with its weight.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What one observation did to one cause, or to one module.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Ground {
    /// Observation id.
    pub observation: String,
    /// Natural logarithm of the observation's probability (density, per V, ohm or A) under the cause, given the
    /// observations before it.
    pub log_likelihood: f64,
    /// By how much it raised (or, below zero, lowered) the natural logarithm of the odds against everything else.
    pub log_odds: f64,
}
