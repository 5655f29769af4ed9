//! Expected cost and time of a route.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::route::{CommonRates, Route, Terms};
use crate::cents::Cents;
use crate::error::MoneyError;

/// Averages over what can happen on one route.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Expectation {
    /// Expected cost in major units.
    pub cost: f64,
    /// Expected elapsed working hours.
    pub hours: f64,
    /// Chance that this route succeeds within the planned attempts.
    pub success: f64,
}

impl Expectation {
    /// The expected cost in whole cents.
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`]: see [`Cents::from_expectation`].
    pub fn cost_cents(&self) -> Result<Cents, MoneyError> {
        Cents::from_expectation(self.cost)
    }
}

/// Expectations with the route's own chance of success.
///
/// # Errors
/// [`MoneyError::Route`] if the route or the rates make no sense.
pub fn expected(route: &Route, rates: &CommonRates) -> Result<Expectation, MoneyError> {
    let terms = Terms::of(route, rates)?;
    let failure = 1.0 - terms.success;
    Ok(average(&terms, powers(failure)))
}

/// Expectations if one attempt succeeded with probability `success` (0 to 1) instead.
///
/// # Errors
/// [`MoneyError::Route`] if `success` lies outside 0 to 1, or if the route or the rates make no sense.
pub fn expected_at(route: &Route, rates: &CommonRates, success: f64) -> Result<Expectation, MoneyError> {
    if !(0.0..=1.0).contains(&success) {
        return Err(MoneyError::Route("the chance of success must lie between 0 and 100 %"));
    }
    Ok(average(&Terms::of(route, rates)?, powers(1.0 - success)))
}

/// The sums of the model, with `failures` yielding E[q^0], E[q^1], E[q^2] … of the chance q that an
/// attempt fails. Cost is a polynomial in q, so these moments give its average exactly, whether q is
/// known (plain powers) or follows a distribution.
pub(super) fn average(terms: &Terms, failures: impl Iterator<Item = f64>) -> Expectation {
    let mut sum = Expectation { cost: 0.0, hours: 0.0, success: 0.0 };
    let mut recovered = 1.0;
    let mut moments = failures.peekable();
    for stage in terms.stages() {
        let reached = moments.next().unwrap_or(0.0);
        let reached_and_failed = moments.peek().copied().unwrap_or(0.0);
        sum.cost += recovered * reached * stage.cost;
        sum.hours += recovered * reached * stage.hours;
        sum.success += recovered * (reached - reached_and_failed);
        recovered *= terms.recovery;
    }
    let lost = 1.0 - sum.success;
    sum.cost += lost * terms.loss_cost;
    sum.hours += lost * terms.loss_hours;
    sum
}

pub(super) fn powers(q: f64) -> impl Iterator<Item = f64> {
    std::iter::successors(Some(1.0), move |power| Some(power * q))
}
