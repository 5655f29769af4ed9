//! Every cause with its probability, its severity, what ruled it out and the readings that did most.

use crate::answer::cause_share::{CauseShare, LikelihoodWord, RuledOut, SeverityEstimate};
use crate::file::observation::Observation;
use crate::predict::cause::Cause;
use crate::predict::model::Model;
use crate::predict::modules::module_of;
use crate::weigh::course::Course;
use crate::weigh::posterior::{Hypothesis, Posterior};
use crate::weigh::rows::Row;

/// Odds must have fallen at least so many times for "ruled out" …
const FALLEN: f64 = 20.0;
/// … and the posterior must be below this.
const GONE: f64 = 0.01;

/// What the shares are made from.
pub(crate) struct CauseShares<'c, 'a> {
    pub model: &'c Model<'a>,
    pub posterior: &'c Posterior,
    pub rows: &'c [Row],
    pub observations: &'c [Observation],
}

impl CauseShares<'_, '_> {
    /// Most probable first. `shares` holds every cause's probability.
    pub fn of(&self, shares: &[f64]) -> Vec<CauseShare> {
        let numbers = shares.iter().enumerate();
        let mut causes: Vec<CauseShare> =
            numbers.filter_map(|(number, share)| self.one(number, *share)).collect();
        causes.sort_by(|left, right| {
            right.probability.total_cmp(&left.probability).then(left.id.cmp(&right.id))
        });
        causes
    }

    fn one(&self, number: usize, probability: f64) -> Option<CauseShare> {
        let cause = self.model.causes.get(number)?;
        let part = self.model.wiring.parts.get(cause.part)?.component;
        let of_cause = |hypothesis: &&Hypothesis| hypothesis.cause == number;
        let own: Vec<&Hypothesis> = self.posterior.hypotheses.iter().filter(of_cause).collect();
        let fading = own.iter().filter(|hypothesis| hypothesis.comes_and_goes);
        let course = Course::of(self.posterior, &own);
        Some(CauseShare {
            id: cause.id.clone(),
            component: part.id.clone(),
            mode: cause.spec.mode,
            probability,
            comes_and_goes: fading.map(|hypothesis| hypothesis.posterior).sum(),
            prior: own.iter().map(|hypothesis| hypothesis.prior).sum(),
            word: LikelihoodWord::of(probability),
            severity: cause.has_range().then(|| severity(&own, cause)).flatten(),
            module: module_of(self.model, number),
            ruled_out: self.ruled_out(&own, probability, &course),
            reasons: course.reasons(self.rows, self.observations),
        })
    }

    /// Odds fallen 20-fold and under 1 %, and no severity left that fits every reading; with the reading that did most.
    fn ruled_out(&self, own: &[&Hypothesis], probability: f64, course: &Course) -> Option<RuledOut> {
        let prior: f64 = own.iter().map(|hypothesis| hypothesis.prior).sum();
        let odds = |share: f64| share / (1.0 - share).max(f64::MIN_POSITIVE);
        let factor = odds(prior) / odds(probability).max(1e-300);
        if probability >= GONE || factor < FALLEN || own.iter().any(|hypothesis| hypothesis.fits_all()) {
            return None;
        }
        let place = course.largest_drop(self.rows)?;
        Some(RuledOut { by: self.observations.get(place)?.id.clone(), factor })
    }
}

fn severity(own: &[&Hypothesis], cause: &Cause) -> Option<SeverityEstimate> {
    let mut nodes: Vec<(f64, f64)> = own
        .iter()
        .flat_map(|hypothesis| {
            hypothesis.nodes.iter().map(|node| (node.u, hypothesis.posterior * node.share))
        })
        .collect();
    nodes.sort_by(|left, right| left.0.total_cmp(&right.0));
    let total: f64 = nodes.iter().map(|(_, weight)| weight).sum();
    let at = |share: f64| quantile(&nodes, share * total).map(|u| cause.severity(u));
    Some(SeverityEstimate { low: at(0.05)?, median: at(0.5)?, high: at(0.95)? })
}

/// Where so much of the weight lies below: half of a point's weight lies on each side of it, and between two points it
/// grows evenly.
fn quantile(nodes: &[(f64, f64)], wanted: f64) -> Option<f64> {
    let (mut place, mut below, mut passed) = (nodes.first()?.0, 0.0, 0.0);
    for (u, weight) in nodes {
        let here = passed + weight / 2.0;
        if here >= wanted && here > below {
            return Some(place + (u - place) * ((wanted - below) / (here - below)));
        }
        passed += weight;
        (place, below) = (*u, here);
    }
    Some(place)
}
