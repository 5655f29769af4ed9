//! What a shop's own history says about its chance of success.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::expectation::{Expectation, average};
use super::route::{CommonRates, Route, Terms};
use crate::error::MoneyError;

/// A Beta belief about the chance p that one attempt succeeds: what was assumed before the first job,
/// counted as if it were attempts, plus the attempts seen. In records all four are whole numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SuccessBelief {
    /// Assumed successes, at least 1.
    pub assumed_successes: u32,
    /// Assumed failures, at least 1.
    pub assumed_failures: u32,
    /// Attempts that succeeded.
    pub successes: u32,
    /// Attempts that failed.
    pub failures: u32,
}

impl SuccessBelief {
    /// Mean of p. Don't put it into the route in place of p: cost is curved in p, so the cost at the mean
    /// is not the mean cost. Use [`SuccessBelief::expected`].
    ///
    /// # Errors
    /// [`MoneyError::Route`] if no success or no failure is assumed.
    pub fn mean(&self) -> Result<f64, MoneyError> {
        let (a, b) = self.shapes()?;
        Ok(a / (a + b))
    }

    /// Expectations averaged over the belief, exactly: the cost is a polynomial in q = 1 - p, and under
    /// p ~ Beta(a, b) the moment E[q^k] is the product of (b + i) / (a + b + i) for i below k
    /// (Johnson, Kotz, Balakrishnan, Continuous Univariate Distributions vol. 2, ch. 25: from memory;
    /// checked against quadrature). The route's own `success` is not used.
    ///
    /// # Errors
    /// [`MoneyError::Route`] if no success or no failure is assumed, or if the route or the rates make no sense.
    pub fn expected(&self, route: &Route, rates: &CommonRates) -> Result<Expectation, MoneyError> {
        let (a, b) = self.shapes()?;
        let next = move |(k, moment): &(f64, f64)| Some((k + 1.0, moment * (b + k) / (a + b + k)));
        let moments = std::iter::successors(Some((0.0, 1.0)), next).map(|(_, moment)| moment);
        Ok(average(&Terms::of(route, rates)?, moments))
    }

    /// Values of p with weights that add up to 1: Simpson's rule over the Beta density, in logarithms so that
    /// long histories don't underflow. `intervals` is rounded up to an even number.
    pub(crate) fn nodes(&self, intervals: u32) -> Result<Vec<(f64, f64)>, MoneyError> {
        let (a, b) = self.shapes()?;
        let even = intervals.max(2).next_multiple_of(2);
        let mode = ((a - 1.0) / (a + b - 2.0)).clamp(0.0, 1.0);
        let log = |p: f64| power_log(p, a - 1.0) + power_log(1.0 - p, b - 1.0);
        let top = if a + b > 2.0 { log(mode) } else { 0.0 };
        let node = |index: u32| {
            let p = f64::from(index) / f64::from(even);
            let simpson = if index == 0 || index == even { 1.0 } else { f64::from(2 + 2 * (index % 2)) };
            (p, simpson * (log(p) - top).exp())
        };
        let raw: Vec<(f64, f64)> = (0..=even).map(node).collect();
        let sum: f64 = raw.iter().map(|(_, weight)| weight).sum();
        Ok(raw.into_iter().map(|(p, weight)| (p, weight / sum)).collect())
    }

    fn shapes(&self) -> Result<(f64, f64), MoneyError> {
        if self.assumed_successes == 0 || self.assumed_failures == 0 {
            return Err(MoneyError::Route("assume at least one success and one failure"));
        }
        let a = f64::from(self.assumed_successes) + f64::from(self.successes);
        let b = f64::from(self.assumed_failures) + f64::from(self.failures);
        Ok((a, b))
    }
}

/// Logarithm of x^power, with 0^0 = 1.
fn power_log(x: f64, power: f64) -> f64 {
    if power == 0.0 { 0.0 } else { power * x.ln() }
}
