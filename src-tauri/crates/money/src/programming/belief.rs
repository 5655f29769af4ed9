//! What a shop's own history says about its chance of success.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cases::{CostCases, cases_of};
use super::expectation::{Expectation, average};
use super::outcome::outcomes_with;
use super::route::{CommonRates, Route, Terms};
use crate::error::MoneyError;
use crate::percent::Percent;
use crate::quantity::Hours;

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

/// A share that was only judged counts like at least so many attempts (judgment): the tenth job of one's own already
/// weighs a third.
const ASSUMED_ATTEMPTS: u32 = 20;
/// A share so near to none or all that it takes more attempts than this to say is said by this many.
const MOST_ASSUMED: u32 = 1_000;
/// How near the assumed counts come to the share: a twentieth of one per cent.
const NEAR: f64 = 0.000_5;

impl SuccessBelief {
    /// A judged share before the first attempt was seen, as the smallest whole numbers of at least 20 attempts that say it
    /// to a twentieth of one per cent. None and all become one in a thousand: nothing is certain.
    pub fn judged(share: Percent) -> SuccessBelief {
        let p = share.as_f64();
        let whole = Percent::HUNDRED.parts();
        let failing = whole.saturating_sub(share.parts());
        let counts = |attempts: u32| {
            let rounded = failing.saturating_mul(attempts).saturating_add(whole / 2) / whole;
            let failures = rounded.clamp(1, attempts.saturating_sub(1).max(1));
            (attempts.saturating_sub(failures), failures)
        };
        let near = |(successes, failures): &(u32, u32)| {
            (f64::from(*successes) / f64::from(successes.saturating_add(*failures)) - p).abs() <= NEAR
        };
        let found = (ASSUMED_ATTEMPTS..=MOST_ASSUMED).map(counts).find(near);
        let (assumed_successes, assumed_failures) = found.unwrap_or_else(|| counts(MOST_ASSUMED));
        SuccessBelief { assumed_successes, assumed_failures, successes: 0, failures: 0 }
    }

    /// The same belief after further attempts were seen.
    #[must_use]
    pub fn after(self, successes: u32, failures: u32) -> SuccessBelief {
        SuccessBelief {
            successes: self.successes.saturating_add(successes),
            failures: self.failures.saturating_add(failures),
            ..self
        }
    }

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
        let moments = self.failure_moments()?;
        Ok(average(&Terms::of(route, rates)?, moments))
    }

    /// What one job can cost, with the chances averaged over the belief; its average is that of
    /// [`SuccessBelief::expected`].
    ///
    /// # Errors
    /// As [`SuccessBelief::expected`].
    pub fn cost_cases(&self, route: &Route, rates: &CommonRates) -> Result<CostCases, MoneyError> {
        let moments = self.failure_moments()?;
        Ok(cases_of(&outcomes_with(&Terms::of(route, rates)?, moments)))
    }

    /// Chance, averaged over the belief, that the module is programmed on this route within `deadline` elapsed working
    /// hours. Times are compared in whole thousandths of an hour.
    ///
    /// # Errors
    /// [`MoneyError::Route`] if no success or no failure is assumed, or if the route makes no sense.
    pub fn probability_done_by(&self, route: &Route, deadline: Hours) -> Result<f64, MoneyError> {
        route.check()?;
        let (mut elapsed, mut recovered, mut done) = (0_u64, 1.0, 0.0);
        let mut moments = self.failure_moments()?.peekable();
        for attempt in 0..route.attempts {
            let wait = if attempt == 0 { route.wait } else { route.wait_retry };
            elapsed += u64::from(wait.thousandths()) + u64::from(route.labor_hours.thousandths());
            if elapsed > u64::from(deadline.thousandths()) {
                break;
            }
            let reached = moments.next().unwrap_or(0.0);
            done += recovered * (reached - moments.peek().copied().unwrap_or(0.0));
            recovered *= route.recovery.as_f64();
        }
        Ok(done)
    }

    /// E[q^0], E[q^1], E[q^2] … of the chance q that an attempt fails.
    fn failure_moments(&self) -> Result<impl Iterator<Item = f64> + use<>, MoneyError> {
        let (a, b) = self.shapes()?;
        let next = move |(k, moment): &(f64, f64)| Some((k + 1.0, moment * (b + k) / (a + b + k)));
        Ok(std::iter::successors(Some((0.0, 1.0)), next).map(|(_, moment)| moment))
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
