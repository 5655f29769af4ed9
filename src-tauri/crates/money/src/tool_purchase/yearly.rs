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
const INTERVALS: u32 = 4_000;
/// Counts together less likely than this are left out.
const UNLIKELY: f64 = 1e-9;
/// More jobs than this in one year have no chance worth counting, at the highest rate.
const MOST_JOBS: u32 = 3_000;
/// Halvings of a range of some millions: below a cent.
const HALVINGS: u32 = 36;

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
    let mut savings = Vec::new();
    for (success, weight) in own.belief.nodes(INTERVALS)? {
        savings.push((own.other_cost - expected_at(own.route, own.rates, success)?.cost, weight));
    }
    let spread = Spread { fewer: counted(expected), savings, cost };
    Ok(YearlyGain { jobs: jobs_a_year, low: spread.quantile(0.1), average, high: spread.quantile(0.9) })
}

/// The tool's whole cost spread evenly over the months looked ahead, for twelve of them, in major units.
fn yearly_cost(offer: &ToolOffer) -> f64 {
    -offer.fixed_worth() / offer.annuity() * 12.0
}

/// What a year may bring.
struct Spread {
    /// Probability of at most 0, 1, 2 … jobs.
    fewer: Vec<f64>,
    /// What one job saves, with the weight of that saving; the weights add up to 1.
    savings: Vec<(f64, f64)>,
    /// What the tool costs.
    cost: f64,
}

impl Spread {
    /// Probability that the year brings at most `gain`.
    fn at_most(&self, gain: f64) -> f64 {
        let saved = gain + self.cost;
        let chance = |saving: f64| match saving {
            some if some > 0.0 => self.at_most_jobs((saved / some).floor()),
            // The more jobs, the worse: it takes so many or more of them.
            loss if loss < 0.0 => 1.0 - self.at_most_jobs((saved / loss).ceil() - 1.0),
            _ => f64::from(u8::from(saved >= 0.0)),
        };
        self.savings.iter().map(|(saving, weight)| weight * chance(*saving)).sum()
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // at least zero and at most some thousands
    fn at_most_jobs(&self, jobs: f64) -> f64 {
        match jobs {
            none if none < 0.0 => 0.0,
            many if many >= self.fewer.len() as f64 => 1.0,
            some => self.fewer.get(some as usize).copied().unwrap_or(1.0),
        }
    }

    /// The smallest gain that is not passed with this probability, by bisection.
    fn quantile(&self, probability: f64) -> f64 {
        let most = self.fewer.len() as f64;
        let ends = self.savings.iter().map(|(saving, _)| saving * most);
        let mut low = ends.clone().fold(0.0, f64::min) - self.cost - 1.0;
        let mut high = ends.fold(0.0, f64::max) - self.cost;
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            if self.at_most(middle) < probability { low = middle } else { high = middle }
        }
        high
    }
}

/// Probability of at most 0, 1, 2 … jobs, Poisson around `mean`, each from the one before in logarithms, as far as it
/// matters.
fn counted(mean: f64) -> Vec<f64> {
    let (mut log, mut sum, mut fewer) = (-mean, 0.0, Vec::new());
    for jobs in 0..MOST_JOBS {
        sum += f64::exp(log);
        fewer.push(sum.min(1.0));
        if f64::from(jobs) > mean && 1.0 - sum < UNLIKELY {
            break;
        }
        log += mean.ln() - f64::from(jobs + 1).ln();
    }
    fewer
}
