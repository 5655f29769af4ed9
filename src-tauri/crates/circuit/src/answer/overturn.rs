//! What would change the engine's mind: a test, and the result of it that would overturn a verdict.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A result that would overturn a verdict.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Overturn {
    /// Cause id or module id the verdict is about.
    pub about: String,
    /// Test that could do it.
    pub test: String,
    /// Result that would do it.
    pub result: WouldShow,
    /// Chance of such a result, 0 to 1.
    pub chance: f64,
    /// Probability of the cause, or the module, after it.
    pub probability_after: f64,
    /// Cause that would lead after it; `unmodelled` for something this circuit doesn't contain.
    pub leading_after: String,
}

/// A result a test may show.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum WouldShow {
    /// A reading between these (V, ohm, A); absent = no bound on that side.
    Between {
        /// Not below.
        from: Option<f64>,
        /// Not above.
        to: Option<f64>,
    },
    /// Over-limit.
    OverLimit,
    /// Yes.
    Yes,
    /// No.
    No,
}
