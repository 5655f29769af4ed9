//! Which route to take.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::expectation::{Expectation, expected};
use super::outcome::{SUM_ERROR, probability_done_by};
use super::route::{CommonRates, Route};
use crate::error::MoneyError;
use crate::percent::Percent;
use crate::quantity::Hours;

/// The vehicle is promised within so many working hours, and the promise should hold with this chance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Deadline {
    /// Elapsed working hours from now.
    pub within: Hours,
    /// Chance asked for.
    pub at_least: Percent,
}

/// The routes compared, in the order they were given.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Choice {
    /// Position of the cheapest route that keeps the promise; `None` means no route does, so tell the
    /// customer before anything is ordered.
    pub best: Option<usize>,
    /// Expectations per route.
    pub expectations: Vec<Expectation>,
    /// Chance per route of keeping the promise; empty without a deadline.
    pub in_time: Vec<f64>,
}

/// Compares routes by expected cost. With a deadline only those count that keep it with the chance asked
/// for. Of equal costs the first given wins.
///
/// # Errors
/// [`MoneyError::Route`] if one of the routes or the rates make no sense.
pub fn best_route(
    routes: &[Route],
    rates: &CommonRates,
    deadline: Option<Deadline>,
) -> Result<Choice, MoneyError> {
    let mut choice = Choice { best: None, expectations: Vec::new(), in_time: Vec::new() };
    let mut lowest = f64::INFINITY;
    for (position, route) in routes.iter().enumerate() {
        let expectation = expected(route, rates)?;
        let kept = choice.keeps(route, deadline)?;
        if kept && expectation.cost < lowest {
            lowest = expectation.cost;
            choice.best = Some(position);
        }
        choice.expectations.push(expectation);
    }
    Ok(choice)
}

impl Choice {
    fn keeps(&mut self, route: &Route, deadline: Option<Deadline>) -> Result<bool, MoneyError> {
        let Some(deadline) = deadline else { return Ok(true) };
        let chance = probability_done_by(route, deadline.within)?;
        self.in_time.push(chance);
        Ok(chance >= deadline.at_least.as_f64() - SUM_ERROR)
    }
}
