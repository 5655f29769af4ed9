//! What a verdict rests on: the readings that made it, each with its weight.

use crate::answer::ground::Ground;
use crate::file::observation::Observation;
use crate::weigh::posterior::{Hypothesis, Posterior, log_sum};
use crate::weigh::rows::Row;

/// Readings named per verdict.
const NAMED: usize = 4;

/// How the odds of some hypotheses went, reading by reading.
#[derive(Debug)]
pub(crate) struct Course {
    /// Logarithm of the evidence after each row, beginning with none.
    own: Vec<f64>,
    /// The same for everything else.
    others: Vec<f64>,
}

impl Course {
    pub fn of(posterior: &Posterior, own: &[&Hypothesis]) -> Self {
        let prior: f64 = own.iter().map(|hypothesis| hypothesis.prior).sum();
        let at = |i: usize, hypothesis: &Hypothesis| {
            hypothesis.prior.ln() + hypothesis.course.get(i).copied().unwrap_or(0.0)
        };
        let joint = |i: usize| log_sum(own.iter().map(|hypothesis| at(i, hypothesis)));
        let rest = |i: usize, all: f64| all + (1.0 - (joint(i) - all).exp()).max(1e-300).ln();
        Self {
            own: (0..posterior.course.len()).map(|i| joint(i) - prior.ln()).collect(),
            others: posterior.course.iter().enumerate().map(|(i, all)| rest(i, *all)).collect(),
        }
    }

    /// Change of the logarithm of the likelihood, and of the odds, by each row.
    fn steps(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.own.windows(2).zip(self.others.windows(2)).filter_map(|(own, others)| match (own, others) {
            ([before, after], [other_before, other_after]) => {
                let change = after - before;
                Some((change, change - (other_after - other_before)))
            }
            _ => None,
        })
    }

    /// Place of the observation that lowered the odds most.
    pub fn largest_drop(&self, rows: &[Row]) -> Option<usize> {
        let drops = self.steps().zip(rows).filter_map(|((_, odds), row)| Some((odds, row.observation?)));
        drops.min_by(|left, right| left.0.total_cmp(&right.0)).map(|(_, place)| place)
    }

    /// The readings that did most.
    pub fn grounds(&self, rows: &[Row], observations: &[Observation]) -> Vec<Ground> {
        let ground = |((log_likelihood, log_odds), row): ((f64, f64), &Row)| {
            let observation = observations.get(row.observation?)?.id.clone();
            Some(Ground { observation, log_likelihood, log_odds })
        };
        let mut all: Vec<Ground> = self.steps().zip(rows).filter_map(ground).collect();
        all.sort_by(|left, right| right.log_odds.abs().total_cmp(&left.log_odds.abs()));
        all.truncate(NAMED);
        all
    }
}
