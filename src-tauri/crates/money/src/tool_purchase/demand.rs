//! How many jobs a month need programming, and how sure that is.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::MoneyError;

/// A gamma belief about the monthly rate of jobs: shape = assumed + seen jobs, rate = assumed + seen months.
/// All four are whole numbers, so every probability below is a finite Poisson sum.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Demand {
    /// Jobs assumed before looking, at least 1.
    pub assumed_jobs: u32,
    /// In so many months, at least 1.
    pub assumed_months: u32,
    /// Jobs seen.
    pub jobs: u32,
    /// In so many months.
    pub months: u32,
}

/// A belief with more jobs than this isn't a repair shop; the sums stay short.
const MOST: u32 = 1_000_000;

impl Demand {
    /// Refuses a belief whose numbers make no sense.
    ///
    /// # Errors
    /// [`MoneyError::Purchase`] if no job or no month is assumed, or if one of the four is over a million.
    pub fn check(&self) -> Result<(), MoneyError> {
        if self.assumed_jobs == 0 || self.assumed_months == 0 {
            return Err(MoneyError::Purchase("assume at least one job in one month"));
        }
        let counts = [self.assumed_jobs, self.assumed_months, self.jobs, self.months];
        match counts.iter().any(|count| *count > MOST) {
            true => Err(MoneyError::Purchase("more than a million jobs or months")),
            false => Ok(()),
        }
    }

    /// Expected jobs a month.
    pub fn mean(&self) -> f64 {
        f64::from(self.shape()) / self.rate()
    }

    /// Probability that the rate is above `jobs_per_month`.
    pub fn above(&self, jobs_per_month: f64) -> f64 {
        gamma_above(self.shape(), self.rate() * jobs_per_month)
    }

    /// The rate that is not passed with this probability (0 to 1, ends excluded), by bisection.
    ///
    /// # Errors
    /// [`MoneyError::Purchase`] if the probability lies outside 0 to 1 or is one of the ends, and those of
    /// [`Demand::check`].
    pub fn quantile(&self, probability: f64) -> Result<f64, MoneyError> {
        self.check()?;
        if !(probability > 0.0 && probability < 1.0) {
            return Err(MoneyError::Purchase("the probability must lie between 0 and 1"));
        }
        let (mut low, mut high) = (0.0, self.mean());
        while self.above(high) > 1.0 - probability {
            high *= 2.0;
        }
        for _ in 0..200 {
            let middle = f64::midpoint(low, high);
            if self.above(middle) > 1.0 - probability { low = middle } else { high = middle }
        }
        Ok(f64::midpoint(low, high))
    }

    pub(super) fn shape(&self) -> u32 {
        self.assumed_jobs.saturating_add(self.jobs)
    }

    pub(super) fn rate(&self) -> f64 {
        f64::from(self.assumed_months) + f64::from(self.months)
    }

    /// Probabilities of 0, 1, 2 … jobs in `exposure` months: negative binomial with this shape and
    /// p = rate / (rate + exposure), by recursion in logarithms so that nothing underflows early.
    pub(super) fn counts(&self, exposure: f64) -> impl Iterator<Item = f64> {
        let (shape, p) = (f64::from(self.shape()), self.rate() / (self.rate() + exposure));
        let next = move |(k, log): &(f64, f64)| {
            Some((
                k + 1.0,
                log + ((shape + k) / (k + 1.0)).ln() + (exposure.ln() - (exposure + self.rate()).ln()),
            ))
        };
        std::iter::successors(Some((0.0, shape * p.ln())), next).map(|(_, log)| log.exp())
    }
}

/// P(X > x) for a gamma variable of whole shape and unit rate: the Poisson probability of fewer than `shape`
/// events at mean x (Abramowitz and Stegun 26.4.21, from memory; checked against scipy).
pub(super) fn gamma_above(shape: u32, x: f64) -> f64 {
    if x <= 0.0 {
        return 1.0;
    }
    let (mut log, mut sum) = (-x, 0.0);
    for k in 0..shape {
        sum += f64::exp(log);
        log += x.ln() - f64::from(k + 1).ln();
    }
    sum.min(1.0)
}
