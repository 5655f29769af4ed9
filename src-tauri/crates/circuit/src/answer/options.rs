//! What the caller can set.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::pin_out::UnknownPins;
use crate::answer::test_or_buy::ModulePrice;
use crate::file::meter::Meter;

/// What the caller can set.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Options {
    /// Tests that can't be done here (point not in reach, tool missing).
    pub cannot_reach: Vec<String>,
    /// Severity points per decade. Doubling it must change no probability by more than 0.005.
    pub points_per_decade: u32,
    /// Chance that the leads were on the wrong points.
    pub mis_probe: f64,
    /// How many next tests to return.
    pub next_tests: usize,
    /// Least probability of a module that may be called; below 0.95 counts as 0.95.
    pub module_at_least: f64,
    /// Highest probability of any rival of such a module; above 0.03 counts as 0.03.
    pub rival_at_most: f64,
    /// The shop's own closed jobs on this circuit: cause id (or `unmodelled`) → how often it was the proven cause.
    pub closed_jobs: BTreeMap<String, u32>,
    /// How many closed jobs the circuit file's own odds weigh as much as (Dirichlet).
    pub odds_weigh_jobs: f64,
    /// Further meters; an observation names the one it was taken with.
    pub meters: Vec<Meter>,
    /// A connector whose pins aren't known for certain.
    pub unknown_pins: Option<UnknownPins>,
    /// What an hour on the bench costs, cents: with it come the answers of `test_or_buy`.
    pub bench_cents_per_hour: Option<f64>,
    /// Module id → what a new one costs.
    pub module_prices: BTreeMap<String, ModulePrice>,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            cannot_reach: Vec::new(),
            points_per_decade: 240,
            mis_probe: 0.02,
            next_tests: 5,
            module_at_least: 0.97,
            rival_at_most: 0.02,
            closed_jobs: BTreeMap::new(),
            odds_weigh_jobs: 30.0,
            meters: Vec::new(),
            unknown_pins: None,
            bench_cents_per_hour: None,
            module_prices: BTreeMap::new(),
        }
    }
}
