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
    pub fn mean(&self) -> Result<f64, MoneyError> {
        let (a, b) = self.shapes()?;
        Ok(a / (a + b))
    }

    /// Expectations averaged over the belief, exactly: the cost is a polynomial in q = 1 - p, and under
    /// p ~ Beta(a, b) the moment E[q^k] is the product of (b + i) / (a + b + i) for i below k
    /// (Johnson, Kotz, Balakrishnan, Continuous Univariate Distributions vol. 2, ch. 25: from memory;
    /// checked against quadrature). The route's own `success` is not used.
    pub fn expected(&self, route: &Route, rates: &CommonRates) -> Result<Expectation, MoneyError> {
        let (a, b) = self.shapes()?;
        let next = move |(k, moment): &(f64, f64)| Some((k + 1.0, moment * (b + k) / (a + b + k)));
        let moments = std::iter::successors(Some((0.0, 1.0)), next).map(|(_, moment)| moment);
        Ok(average(&Terms::of(route, rates)?, moments))
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
