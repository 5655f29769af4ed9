//! Probabilities before any reading: the circuit file's odds, sharpened by the shop's own closed jobs.

use crate::answer::diagnosis::UNMODELLED;
use crate::answer::options::Options;
use crate::predict::model::Model;

/// Sum to 1.
#[derive(Debug, Clone)]
pub(crate) struct Priors {
    pub causes: Vec<f64>,
    pub unmodelled: f64,
}

impl Priors {
    /// Dirichlet counts: the file's odds weigh as much as a stated number of jobs, every closed job counts one more.
    pub fn of(model: &Model<'_>, options: &Options) -> Self {
        let odds: f64 = model.causes.iter().map(|cause| cause.spec.odds).sum();
        let unmodelled_odds = model.circuit().unmodelled_odds;
        let weight = options.odds_weigh_jobs.max(1.0) / (odds + unmodelled_odds);
        let closed = |id: &str| options.closed_jobs.get(id).copied().map_or(0.0, f64::from);
        let count = |odds: f64, id: &str| odds.mul_add(weight, closed(id));
        let causes: Vec<f64> = model.causes.iter().map(|cause| count(cause.spec.odds, &cause.id)).collect();
        let unmodelled = count(unmodelled_odds, UNMODELLED);
        let all = causes.iter().sum::<f64>() + unmodelled;
        Self { causes: causes.iter().map(|count| count / all).collect(), unmodelled: unmodelled / all }
    }
}
