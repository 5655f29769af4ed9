//! Whether to wait and count jobs for some months before buying.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::demand::Demand;
use super::offer::ToolOffer;
use super::worth::Line;
use crate::error::MoneyError;

/// What waiting brings and costs, in major units. Waiting pays only if the first is larger.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Waiting {
    /// Expected gain of deciding after having counted the jobs of those months.
    pub knowledge: f64,
    /// Savings missed meanwhile, expected.
    pub missed: f64,
}

/// Probability that may stay uncounted at the far end of the sum.
const UNCOUNTED: f64 = 1e-15;
/// Terms of the sum at most.
const MOST_TERMS: usize = 1_000_000;

/// Value of waiting `months` while the work is given away: the decision after k jobs, weighted with the
/// probability of k (negative binomial), against deciding now.
///
/// # Errors
/// [`MoneyError::Purchase`] if the saving is no number, and those of [`ToolOffer::check`] and [`Demand::check`].
pub fn worth_of_waiting(
    offer: &ToolOffer,
    demand: &Demand,
    saving: f64,
    months: u32,
) -> Result<Waiting, MoneyError> {
    let line = Line::of(offer, demand, saving)?;
    let exposure = f64::from(months);
    let missed = exposure * saving * offer.coverage.as_f64() * demand.mean();
    if months == 0 {
        return Ok(Waiting { knowledge: 0.0, missed });
    }
    let (mut later, mut counted, mut seen) = (0.0, 0.0, 0.0);
    for probability in demand.counts(exposure).take(MOST_TERMS) {
        let rate = (f64::from(demand.shape()) + seen) / (demand.rate() + exposure);
        later += probability * line.at(rate).max(0.0);
        counted += probability;
        seen += 1.0;
        let past_the_peak = rate > demand.mean();
        if past_the_peak && (counted > 1.0 - UNCOUNTED || probability < UNCOUNTED * UNCOUNTED) {
            break;
        }
    }
    let now = line.at(demand.mean()).max(0.0);
    Ok(Waiting { knowledge: (later - now).max(0.0), missed })
}
