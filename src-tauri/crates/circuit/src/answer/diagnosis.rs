//! The result: what the readings prove, what to test next, whether a module may be called.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::cause_share::{CauseShare, PairShare};
use crate::answer::doubt::Doubt;
use crate::answer::next_test::{NextTest, WithheldTest};
use crate::answer::overturn::Overturn;
use crate::answer::pin_out::PinOut;
use crate::answer::test_or_buy::TestOrBuy;
use crate::answer::verdict::ModuleVerdict;

/// Stands where a cause's id stands (closed jobs, rivals, what would lead): something this circuit doesn't contain.
pub const UNMODELED: &str = "unmodelled";

/// Name and version of the engine; frozen with every finding. The number after the plus sign grows with every change by
/// which the same readings may give other probabilities, whatever the program's version is.
pub const ENGINE: &str = concat!("testimeter-circuit ", env!("CARGO_PKG_VERSION"), "+7");

/// Everything the readings say; the default says nothing.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Diagnosis {
    /// Engine name and version.
    pub engine: String,
    /// Circuit id.
    pub circuit: String,
    /// Circuit data version.
    pub circuit_version: u32,
    /// Causes, most probable first.
    pub causes: Vec<CauseShare>,
    /// Pairs of faults, only where no single cause fits all readings.
    pub pairs: Vec<PairShare>,
    /// Probability of something this circuit doesn't contain.
    #[serde(rename = "unmodelled")]
    pub unmodeled: f64,
    /// Groups of cause ids that no test of this circuit can separate (only causes above 0.5 %).
    pub inseparable: Vec<Vec<String>>,
    /// Tests worth doing, best first.
    pub next: Vec<NextTest>,
    /// Tests not offered, and why.
    pub withheld_tests: Vec<WithheldTest>,
    /// One verdict per module.
    pub modules: Vec<ModuleVerdict>,
    /// Readings that do not go together.
    pub doubts: Vec<Doubt>,
    /// What a healthy circuit, and the leading cause, would have shown.
    pub expected: Vec<Expected>,
    /// Fuses that may be open. A fuse opens because of what flowed through it: that has to be found before a new one
    /// goes in.
    #[serde(default)]
    pub open_fuses: Vec<String>,
    /// What would overturn the leading cause, most useful first.
    #[serde(default)]
    pub overturned_by: Vec<Overturn>,
    /// Ways the pins in doubt may be assigned, most probable first (only those above 0.1 %).
    #[serde(default)]
    pub pin_outs: Vec<PinOut>,
    /// Testing on against fitting a module now; only with the shop's rate and the module's price.
    #[serde(default)]
    pub test_or_buy: Vec<TestOrBuy>,
}

/// What was to be expected.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Expected {
    /// Observation id.
    pub observation: String,
    /// Reading in a healthy circuit (V, ohm, A; yes = 1, no = 0); absent = over-limit or unsteady.
    pub healthy: Option<f64>,
    /// Reading under the leading cause at its most probable severity.
    pub leading_cause: Option<f64>,
}
