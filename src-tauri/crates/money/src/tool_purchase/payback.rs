//! When a tool has paid for itself.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::demand::Demand;
use super::offer::ToolOffer;
use crate::error::MoneyError;

/// Whether the tool pays back by a month, in plain cash.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Payback {
    /// Jobs needed; `None` if no number is enough because a job saves nothing.
    pub jobs: Option<u32>,
    /// Probability of at least so many, with doubt about the rate and the chance of the months together.
    pub probability: f64,
}

/// More jobs than this are treated as never.
const MOST_JOBS: f64 = 1_000_000.0;

/// Probability that the tool has paid for itself by the end of `months` (not discounted, without resale).
///
/// # Errors
/// Those of [`ToolOffer::check`] and [`Demand::check`].
pub fn pays_back_by(
    offer: &ToolOffer,
    demand: &Demand,
    saving: f64,
    months: u32,
) -> Result<Payback, MoneyError> {
    offer.check()?;
    demand.check()?;
    // A cost that is a whole number of savings must not ask for one job more because of the last bit.
    let needed = (offer.paid_by(months) / saving - 1e-9).ceil();
    if !(saving > 0.0 && needed <= MOST_JOBS) {
        return Ok(Payback { jobs: None, probability: 0.0 });
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // between 0 and a million
    let jobs = needed.max(0.0) as u32;
    let exposure = offer.coverage.as_f64() * f64::from(months);
    let fewer: f64 = match exposure > 0.0 {
        true => demand.counts(exposure).take(jobs as usize).sum(),
        false => f64::from(u8::from(jobs > 0)),
    };
    Ok(Payback { jobs: Some(jobs), probability: (1.0 - fewer).max(0.0) })
}
