//! How good the shop must be at programming for its own tool to beat another way.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::expectation::expected_at;
use super::route::{CommonRates, Route};
use crate::error::MoneyError;

/// Steps of the search for a change of sign; two changes closer than 0.1 % would be missed together.
const STEPS: u32 = 1_000;
/// Halvings inside one step: 10^-3 / 2^60 is far below what an f64 near 1 can tell apart.
const HALVINGS: u32 = 60;

/// Where one route stops being cheaper than a given cost.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", tag = "result", content = "success")]
pub enum BreakEven {
    /// Cheaper whatever the chance of success.
    Always,
    /// Not cheaper even if every attempt succeeds.
    Never,
    /// Cheaper above this chance of success per attempt (0 to 1).
    Above(f64),
}

/// The chance of success per attempt below which `route` stops beating `other_cost` (major units).
/// Searched from 100 % down, so it is the highest crossing if there is more than one.
///
/// # Errors
/// [`MoneyError::Route`] if the other cost is no number, or if the route or the rates make no sense.
pub fn break_even(route: &Route, rates: &CommonRates, other_cost: f64) -> Result<BreakEven, MoneyError> {
    if !other_cost.is_finite() {
        return Err(MoneyError::Route("the cost to compare with is not a number"));
    }
    let excess = |success: f64| Ok::<f64, MoneyError>(expected_at(route, rates, success)?.cost - other_cost);
    if excess(1.0)? >= 0.0 {
        return Ok(BreakEven::Never);
    }
    for step in (0..STEPS).rev() {
        let low = f64::from(step) / f64::from(STEPS);
        if excess(low)? >= 0.0 {
            return halved(low, f64::from(step + 1) / f64::from(STEPS), excess).map(BreakEven::Above);
        }
    }
    Ok(BreakEven::Always)
}

/// Bisection: `excess` is at least zero at `low` and below zero at `high`.
fn halved(
    mut low: f64,
    mut high: f64,
    excess: impl Fn(f64) -> Result<f64, MoneyError>,
) -> Result<f64, MoneyError> {
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if excess(middle)? >= 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(f64::midpoint(low, high))
}
