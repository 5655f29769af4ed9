//! What one job can cost on a route, and what many jobs cost on average.
//!
//! An average beside a limit that holds in 95 of 100 cases reads as a contradiction where a rare lost module pulls
//! the average above that limit. Both numbers are right, but they answer different questions. Said by case there
//! is nothing to contradict: each case with its chance and its cost, and the average over many jobs as what it is.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::outcome::{Outcome, outcomes};
use super::route::{CommonRates, Route};
use crate::error::MoneyError;

/// How a job can end on a route.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Ending {
    /// Programmed by the first attempt.
    FirstAttempt,
    /// Programmed, but only by a further attempt.
    FurtherAttempt,
    /// The module is lost on this route: another module and another route are needed.
    Lost,
}

/// All outcomes with the same ending, taken together.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Case {
    /// How it ends.
    pub ending: Ending,
    /// How likely that is, above 0 and up to 1.
    pub probability: f64,
    /// Least it can cost then, in major units (dollars).
    pub lowest: f64,
    /// Most it can cost then, in major units.
    pub highest: f64,
    /// What it costs then on average, in major units. Equal to `lowest` and `highest` where there is one way
    /// only to get there.
    pub average: f64,
    /// Elapsed working hours then, on average.
    pub hours: f64,
}

/// What one job can cost on a route.
///
/// To be shown as a short list. A remote service with two attempts, for instance:
///
/// - 96 of 100: $265.94
/// - 4 of 100, a further attempt: $364.38
/// - fewer than 1 of 100, module lost: about $985.86
/// - average over many jobs: $272.30
///
/// The cases belong to the job at hand; the average belongs to the choice between routes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CostCases {
    /// The endings that can happen, in the order of [`Ending`]; one to three. Their probabilities add up to 1.
    pub cases: Vec<Case>,
    /// Average over many jobs, in major units: the averages of the cases weighted with their probabilities,
    /// and the same number as [`super::Expectation::cost`].
    pub average: f64,
}

/// What one job can cost with the route's own chance of success, from all its [`outcomes`].
///
/// # Errors
/// [`MoneyError::Route`] if the route or the rates make no sense.
pub fn cost_cases(route: &Route, rates: &CommonRates) -> Result<CostCases, MoneyError> {
    Ok(cases_of(&outcomes(route, rates)?))
}

/// The same from outcomes that are known already.
pub(super) fn cases_of(all: &[Outcome]) -> CostCases {
    let average = all.iter().map(|outcome| outcome.probability * outcome.cost).sum();
    let endings = [Ending::FirstAttempt, Ending::FurtherAttempt, Ending::Lost];
    let cases = endings.into_iter().filter_map(|ending| case(ending, all)).collect();
    CostCases { cases, average }
}

/// The outcomes with this ending that can happen at all, as one case; none if none can.
fn case(ending: Ending, all: &[Outcome]) -> Option<Case> {
    let with_ending = |(index, outcome): &(usize, &Outcome)| {
        outcome.probability > 0.0
            && match ending {
                Ending::FirstAttempt => outcome.success && *index == 0,
                Ending::FurtherAttempt => outcome.success && *index > 0,
                Ending::Lost => !outcome.success,
            }
    };
    let those = || all.iter().enumerate().filter(with_ending).map(|(_, outcome)| outcome);
    let lowest = those().map(|outcome| outcome.cost).min_by(f64::total_cmp)?;
    let highest = those().map(|outcome| outcome.cost).max_by(f64::total_cmp)?;
    let probability: f64 = those().map(|outcome| outcome.probability).sum();
    let mean = |value: fn(&Outcome) -> f64| {
        those().map(|outcome| outcome.probability * value(outcome)).sum::<f64>() / probability
    };
    // Rounding must not carry an average past the costs it is made of.
    let average = mean(|outcome| outcome.cost).clamp(lowest, highest);
    Some(Case { ending, probability, lowest, highest, average, hours: mean(|outcome| outcome.hours) })
}
