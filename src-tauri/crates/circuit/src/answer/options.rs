//! What the caller can set.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::pin_out::UnknownPins;
use crate::answer::test_or_buy::ModulePrice;
use crate::error::CircuitError;
use crate::file::meter::Meter;

/// Bounds that ask for more than certainty are never met: that is somebody's right.
const MORE_THAN_CERTAIN: f64 = 10.0;
/// Dearest module, cents.
const LARGEST_PRICE: f64 = 1e12;

/// Share of leading causes that are none, before their mode is looked at (made on simulated vehicles: FIGURES.md).
const LOOK_ALIKES: f64 = 0.08;

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
    /// Share of what looks like a cause of the circuit and is none, before any closed job: it goes to "not in this circuit"
    /// when the result is put together (decision 31). 0 leaves the plain posterior.
    pub look_alikes: f64,
    /// Further meters; an observation names the one it was taken with.
    pub meters: Vec<Meter>,
    /// A connector whose pins aren't known for certain.
    pub unknown_pins: Option<UnknownPins>,
    /// Further such connectors; up to eight pins in all. A reading names their pins by connector and number
    /// (`module_connector/4`).
    pub further_unknown_pins: Vec<UnknownPins>,
    /// What an hour on the bench costs, cents: with it come the answers of `test_or_buy`.
    pub bench_cents_per_hour: Option<f64>,
    /// Module id → what a new one costs.
    pub module_prices: BTreeMap<String, ModulePrice>,
}

/// Fewest severity points per decade. Over the stories of the checks, probabilities at 120 points are within 0.0007 of those
/// at 1,920; at 60 they are off by up to 0.015, at 15 by up to 0.62, which names another cause (measured on 2026-11-29).
pub const LEAST_POINTS: u32 = 120;

impl Options {
    /// Can the engine work with this?
    ///
    /// # Errors
    /// [`CircuitError::Option`] with the first value that it can't work with, and what to write; a further meter with
    /// values no meter has.
    pub fn check(&self) -> Result<(), CircuitError> {
        self.meters.iter().try_for_each(Meter::check)?;
        if self.points_per_decade < LEAST_POINTS {
            let problem = format!("{} is too coarse: write {LEAST_POINTS} or more", self.points_per_decade);
            return Err(CircuitError::Option { field: "points_per_decade", problem });
        }
        let chance = |of: fn(&UnknownPins) -> f64| {
            self.unknown_pins.iter().chain(&self.further_unknown_pins).map(of).fold(0.0, worse)
        };
        let price = |of: fn(&ModulePrice) -> f64| self.module_prices.values().map(of).fold(0.0, worse);
        for (field, value, (least, most)) in [
            ("mis_probe", self.mis_probe, (0.0, 0.5)),
            ("odds_weigh_jobs", self.odds_weigh_jobs, (1.0, 1e9)),
            ("module_at_least", self.module_at_least, (0.0, MORE_THAN_CERTAIN)),
            ("rival_at_most", self.rival_at_most, (0.0, MORE_THAN_CERTAIN)),
            ("bench_cents_per_hour", self.bench_cents_per_hour.unwrap_or(0.0), (0.0, LARGEST_PRICE)),
            ("module_prices", price(|price| price.part_cents), (0.0, LARGEST_PRICE)),
            ("module_prices", price(|price| price.programming_cents), (0.0, LARGEST_PRICE)),
            ("unknown_pins.diagram_error", chance(|pins| pins.diagram_error), (0.0, 1.0)),
            ("unknown_pins.colour_error", chance(|pins| pins.color_error), (0.0, 1.0)),
        ] {
            if !(least..=most).contains(&value) {
                let problem = format!("{value} is out of range: write {least} to {most}");
                return Err(CircuitError::Option { field, problem });
            }
        }
        Ok(())
    }
}

/// The one that is out of range, if one of them is.
fn worse(left: f64, right: f64) -> f64 {
    if left.is_nan() || left < 0.0 || right < left { left } else { right }
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
            look_alikes: LOOK_ALIKES,
            meters: Vec::new(),
            unknown_pins: None,
            further_unknown_pins: Vec::new(),
            bench_cents_per_hour: None,
            module_prices: BTreeMap::new(),
        }
    }
}
