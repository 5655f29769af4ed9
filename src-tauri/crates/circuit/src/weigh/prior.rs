//! Probabilities before any reading: the circuit file's odds, sharpened by the shop's own closed jobs.

use crate::answer::diagnosis::UNMODELED;
use crate::answer::options::Options;
use crate::predict::model::Model;

/// Sum to 1.
#[derive(Debug, Clone)]
pub(crate) struct Priors {
    pub causes: Vec<f64>,
    pub unmodeled: f64,
}

impl Priors {
    /// Dirichlet counts: the file's odds weigh as much as a stated number of jobs, every closed job counts one more.
    pub fn of(model: &Model<'_>, options: &Options) -> Self {
        let odds: f64 = model.causes.iter().map(|cause| cause.spec.odds).sum();
        let unmodeled_odds = model.circuit().unmodeled_odds;
        let weight = options.odds_weigh_jobs.max(1.0) / (odds + unmodeled_odds);
        let closed = |id: &str| options.closed_jobs.get(id).copied().map_or(0.0, f64::from);
        let count = |odds: f64, id: &str| odds.mul_add(weight, closed(id));
        let causes: Vec<f64> = model.causes.iter().map(|cause| count(cause.spec.odds, &cause.id)).collect();
        let unmodeled = count(unmodeled_odds, UNMODELED);
        let all = causes.iter().sum::<f64>() + unmodeled;
        Self { causes: causes.iter().map(|count| count / all).collect(), unmodeled: unmodeled / all }
    }
}
