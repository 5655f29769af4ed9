//! Everything that can happen on one route, with its probability.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::expectation::powers;
use super::route::{CommonRates, Route, Terms};
use crate::error::MoneyError;
use crate::percent::Percent;
use crate::quantity::Hours;

/// Sums of probabilities that should reach a limit may miss it by this much.
pub(super) const SUM_ERROR: f64 = 1e-12;

/// One way it can end.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Outcome {
    /// How likely.
    pub probability: f64,
    /// Cost in major units.
    pub cost: f64,
    /// Elapsed working hours.
    pub hours: f64,
    /// Whether the module is programmed; otherwise it is lost on this route.
    pub success: bool,
}

/// All outcomes in the order of the attempts: success, then loss, of the first, the second …
/// The probabilities add up to 1.
///
/// # Errors
/// [`MoneyError::Route`] if the route or the rates make no sense.
pub fn outcomes(route: &Route, rates: &CommonRates) -> Result<Vec<Outcome>, MoneyError> {
    let terms = Terms::of(route, rates)?;
    let failure = 1.0 - terms.success;
    Ok(outcomes_with(&terms, powers(failure)))
}

/// The same with `failures` yielding E[q^0], E[q^1], E[q^2] … of the chance q that an attempt fails.
pub(super) fn outcomes_with(terms: &Terms, failures: impl Iterator<Item = f64>) -> Vec<Outcome> {
    let mut all = Vec::new();
    let (mut recovered, mut cost, mut hours) = (1.0, 0.0, 0.0);
    let mut moments = failures.peekable();
    for (stage, left) in terms.stages().zip((0..terms.attempts).rev()) {
        cost += stage.cost;
        hours += stage.hours;
        let reached = moments.next().unwrap_or(0.0);
        let reached_and_failed = moments.peek().copied().unwrap_or(0.0);
        let failed = recovered * reached_and_failed;
        let again = if left > 0 { failed * terms.recovery } else { 0.0 };
        let succeeded = recovered * (reached - reached_and_failed);
        all.push(Outcome { probability: succeeded, cost, hours, success: true });
        all.push(Outcome {
            probability: failed - again,
            cost: cost + terms.loss_cost,
            hours: hours + terms.loss_hours,
            success: false,
        });
        recovered *= terms.recovery;
    }
    all
}

/// The smallest cost (major units) that is not passed with probability `share`; 95 % is a cautious budget.
///
/// # Errors
/// [`MoneyError::Route`] if the route or the rates make no sense.
pub fn cost_quantile(route: &Route, rates: &CommonRates, share: Percent) -> Result<f64, MoneyError> {
    let mut by_cost = outcomes(route, rates)?;
    by_cost.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    let mut sum = 0.0;
    for outcome in &by_cost {
        sum += outcome.probability;
        if sum >= share.as_f64() - SUM_ERROR {
            return Ok(outcome.cost);
        }
    }
    Err(MoneyError::Route("the chances don't add up to one"))
}

/// Chance that the module is programmed on this route within `deadline` elapsed working hours. Times are
/// compared in whole thousandths of an hour, so a deadline met to the minute counts as met.
///
/// # Errors
/// [`MoneyError::Route`] if the route makes no sense.
pub fn probability_done_by(route: &Route, deadline: Hours) -> Result<f64, MoneyError> {
    route.check()?;
    let (success, recovery) = (route.success.as_f64(), route.recovery.as_f64());
    let mut elapsed = 0_u64;
    let (mut reached, mut done) = (1.0, 0.0);
    for attempt in 0..route.attempts {
        let wait = if attempt == 0 { route.wait } else { route.wait_retry };
        elapsed += u64::from(wait.thousandths()) + u64::from(route.labor_hours.thousandths());
        if elapsed > u64::from(deadline.thousandths()) {
            break;
        }
        done += reached * success;
        reached *= (1.0 - success) * recovery;
    }
    Ok(done)
}
