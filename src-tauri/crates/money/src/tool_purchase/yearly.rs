//! What a year with the tool brings, by the number of jobs: a line with the band that chance and doubt make around it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::offer::ToolOffer;
use super::worth::OwnWork;
use crate::error::MoneyError;
use crate::programming::expected_at;

/// What a year brings at one rate of jobs, in major units; below zero the tool costs more than it saves.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct YearlyGain {
    /// Rate of jobs that need programming, a year; the jobs of one year scatter around it.
    pub jobs: f64,
    /// One year in ten brings less.
    pub low: f64,
    /// The average.
    pub average: f64,
    /// One year in ten brings more.
    pub high: f64,
}

/// Most jobs a year: the sums below grow with them.
pub const MOST_YEARLY_JOBS: f64 = 2_000.0;
/// Intervals over the chance of success.
const INTERVALS: u32 = 100;
/// Counts less likely than this are left out.
const UNLIKELY: f64 = 1e-9;

/// What one year costs and brings, with the tool's whole cost spread evenly over the months looked ahead (at the offer's
/// discount), so that the average is zero exactly where [`super::Worth`] breaks even.
///
/// The band holds both doubts at once: how many jobs that year really has (Poisson with the covered share of the rate),
/// and how good the shop is at it (the belief about success).
///
/// # Errors
/// [`MoneyError::Purchase`] if the rate is below zero, over [`MOST_YEARLY_JOBS`] or no number, and those of
/// [`ToolOffer::check`]; [`MoneyError::Route`] if route, rates or belief make no sense.
pub fn yearly_gain(offer: &ToolOffer, own: &OwnWork<'_>, jobs_a_year: f64) -> Result<YearlyGain, MoneyError> {
    offer.check()?;
    if !(0.0..=MOST_YEARLY_JOBS).contains(&jobs_a_year) {
        return Err(MoneyError::Purchase("the jobs a year must lie between 0 and 2000"));
    }
    let cost = yearly_cost(offer);
    let expected = jobs_a_year * offer.coverage.as_f64();
    let saving = own.other_cost - own.belief.expected(own.route, own.rates)?.cost;
    let average = expected * saving - cost;
    let mut gains = Vec::new();
    for (success, weight) in own.belief.nodes(INTERVALS)? {
        let saving = own.other_cost - expected_at(own.route, own.rates, success)?.cost;
        gains.extend(counts(expected).map(|(jobs, chance)| (jobs * saving - cost, weight * chance)));
    }
    gains.sort_by(|a, b| a.0.total_cmp(&b.0));
    let low = quantile(&gains, 0.1).unwrap_or(average);
    let high = quantile(&gains, 0.9).unwrap_or(average);
    Ok(YearlyGain { jobs: jobs_a_year, low, average, high })
}

/// The tool's whole cost spread evenly over the months looked ahead, for twelve of them, in major units.
fn yearly_cost(offer: &ToolOffer) -> f64 {
    -offer.fixed_worth() / offer.annuity() * 12.0
}

/// Poisson counts with their chances, each from the one before in logarithms, as far as they matter.
fn counts(mean: f64) -> impl Iterator<Item = (f64, f64)> {
    let next = move |(k, log): &(f64, f64)| Some((k + 1.0, log + mean.ln() - (k + 1.0).ln()));
    let all = std::iter::successors(Some((0.0, -mean)), next).map(|(k, log): (f64, f64)| (k, log.exp()));
    all.take_while(move |(k, chance)| *k <= mean || *chance > UNLIKELY)
        .filter(|(_, chance)| *chance > UNLIKELY)
}

/// The smallest value that is not passed with this share of the whole weight.
fn quantile(sorted: &[(f64, f64)], share: f64) -> Option<f64> {
    let whole: f64 = sorted.iter().map(|(_, weight)| weight).sum();
    let mut sum = 0.0;
    let mut through = sorted.iter().skip_while(|(_, weight)| {
        sum += weight;
        sum < share * whole
    });
    through.next().map(|(value, _)| *value)
}
