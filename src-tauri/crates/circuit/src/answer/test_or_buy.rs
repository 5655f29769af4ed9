//! Testing on against fitting a module now: the comparison, and what it takes.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What a new module costs, in cents. Money without a currency: this crate only compares.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ModulePrice {
    /// The part.
    pub part_cents: f64,
    /// Programming or set-up after it is fitted.
    #[serde(default)]
    pub programming_cents: f64,
}

/// The comparison for one module, in expected cents until the fix is proven.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TestOrBuy {
    /// Module id.
    pub module: String,
    /// Test to go on with; absent when none is left, or none is needed.
    pub test: Option<String>,
    /// Going on with that test: bench time, and the module where it turns out to be needed.
    pub test_cents: f64,
    /// Fitting the module now: the part, its programming, and the search afterwards where it didn't help.
    pub buy_cents: f64,
    /// Which is cheaper.
    pub cheaper: Cheaper,
    /// By how many cents.
    pub by_cents: f64,
}

/// The cheaper way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Cheaper {
    /// Test on.
    Test,
    /// Fit the module. The gate before a module stays as it is: this is about money alone.
    Buy,
}
