//! The result, put together from a weighed case.

use crate::answer::cause_share::{CauseShare, LikelihoodWord, PairShare, RuledOut, SeverityEstimate};
use crate::answer::diagnosis::{Diagnosis, ENGINE, Expected};
use crate::answer::next_test::{WithheldCode, WithheldTest};
use crate::answer::options::Options;
use crate::call::doubt::doubts_of;
use crate::call::gate::{Verdicts, at_least};
use crate::choose::forecast::{Forecast, Outlook, particles_of};
use crate::choose::next_test::Choice;
use crate::choose::offer::{Candidate, Done, split};
use crate::choose::overturn::Overturning;
use crate::choose::separable::groups;
use crate::choose::test_or_buy::tests_or_buys;
use crate::file::component::ComponentKind;
use crate::file::fault::FaultMode;
use crate::file::observation::Observation;
use crate::predict::model::{Column, Model};
use crate::predict::modules::{causes_in, module_of};
use crate::predict::reading::Predicted;
use crate::weigh::grounds::Course;
use crate::weigh::likelihood::Scale;
use crate::weigh::pairs::Pair;
use crate::weigh::posterior::{Hypothesis, Posterior};
use crate::weigh::rows::Rows;

/// Odds must have fallen at least so many times for "ruled out" …
const FALLEN: f64 = 20.0;
/// … and the posterior must be below this.
const GONE: f64 = 0.01;
/// Pairs below this aren't listed: all that is listed adds up to 1.
const PAIR_WORTH_NAMING: f64 = 1e-9;
/// From this probability an open fuse calls for a word of care (judgement).
const FUSE_WORTH_NAMING: f64 = 0.2;

/// Pairs of faults with their shares.
#[derive(Debug, Default)]
pub(crate) struct PairsFound {
    named: Vec<PairShare>,
}

impl PairsFound {
    /// Gives the pairs their share of the posterior.
    pub fn of(model: &Model<'_>, pairs: Vec<Pair>, posterior: &mut Posterior) -> Self {
        let weights: Vec<(f64, f64)> = pairs.iter().map(|pair| (pair.prior, pair.log)).collect();
        let shares = posterior.make_room(&weights);
        let name = |cause: &usize| model.causes.get(*cause).map(|cause| cause.id.clone());
        let mut named: Vec<PairShare> = pairs
            .iter()
            .zip(shares)
            .map(|(pair, probability)| PairShare {
                causes: pair.causes.iter().filter_map(name).collect(),
                probability,
            })
            .collect();
        named.sort_by(|left, right| right.probability.total_cmp(&left.probability));
        Self { named }
    }
}

/// A weighed case.
pub(crate) struct Case<'c, 'a> {
    pub model: &'c Model<'a>,
    pub rows: &'c Rows,
    pub observations: &'c [Observation],
    pub done: &'c [Done<'c>],
    pub tests: &'c [Candidate<'c>],
    pub posterior: &'c Posterior,
    pub options: &'c Options,
}

impl Case<'_, '_> {
    pub fn diagnosis(&self, pairs: PairsFound) -> Diagnosis {
        let (model, posterior, options) = (self.model, self.posterior, self.options);
        let circuit = model.circuit();
        let mut pairs = pairs.named;
        let particles = particles_of(posterior);
        let scale = Scale::new(&model.meters, options);
        let outlook = Outlook { model, rows: self.rows, scale, belief: posterior.belief() };
        let (offered, withheld_tests) = split(model, self.tests, self.done, options);
        let forecast = |candidate: &Candidate<'_>| {
            let column = candidate.column?;
            Some(Forecast::of(&outlook, column, candidate.test, &particles))
        };
        let forecasts: Vec<Option<Forecast>> = self.tests.iter().map(forecast).collect();
        let with = |wanted: &dyn Fn(&Candidate<'_>) -> bool| -> Vec<&Forecast> {
            let all = self.tests.iter().zip(&forecasts).filter(|(candidate, _)| wanted(candidate));
            all.filter_map(|(_, forecast)| forecast.as_ref()).collect()
        };
        let reachable = |candidate: &Candidate<'_>| !options.cannot_reach.contains(&candidate.test.id);
        let playable = self.playable(&forecasts, &offered, &withheld_tests);
        let choice = Choice::new(model, playable, posterior, &particles, options);
        let shares = posterior.shares(model.causes.len());
        let name = |cause: &usize| model.causes.get(*cause).map(|cause| cause.id.clone());
        let inseparable: Vec<Vec<String>> = groups(&with(&reachable), &particles, &shares)
            .iter()
            .map(|group| group.iter().filter_map(name).collect())
            .collect();
        let causes = self.cause_shares(&shares);
        let doubts = doubts_of(posterior, &self.rows.rows, self.observations);
        let overturning = Overturning {
            model,
            scale,
            tests: self.tests,
            forecasts: &forecasts,
            particles: &particles,
            weights: &choice.weights,
            cannot_reach: &options.cannot_reach,
            call_from: at_least(options),
        };
        let verdicts = Verdicts {
            model,
            tests: self.tests,
            done: self.done,
            causes: &causes,
            pairs: &pairs,
            unmodelled: posterior.unmodelled,
            inseparable: &inseparable,
            doubts: &doubts,
            options,
        };
        let modules = circuit
            .modules
            .iter()
            .map(|module| {
                let mut verdict = verdicts.verdict(module);
                let inside = |hypothesis: &&Hypothesis| {
                    module_of(model, hypothesis.cause).as_deref() == Some(&*module.id)
                };
                let own: Vec<&Hypothesis> = posterior.hypotheses.iter().filter(inside).collect();
                verdict.grounds = Course::of(posterior, &own).grounds(&self.rows.rows, self.observations);
                verdict.overturned_by = overturning.of_module(module, &causes_in(model, module));
                verdict
            })
            .collect();
        let next = choice.best(options.next_tests);
        let test_or_buy = tests_or_buys(&choice, &particles, options);
        let overturned_by = overturning.of_leading(&shares);
        let open_fuses = self.open_fuses(&causes);
        pairs.retain(|pair| pair.probability >= PAIR_WORTH_NAMING);
        Diagnosis {
            engine: ENGINE.to_owned(),
            circuit: circuit.id.clone(),
            circuit_version: circuit.version,
            unmodelled: posterior.unmodelled,
            causes,
            pairs,
            inseparable,
            next,
            withheld_tests,
            modules,
            doubts,
            expected: self.expected(),
            open_fuses,
            overturned_by,
            pin_outs: Vec::new(),
            test_or_buy,
        }
    }

    /// Tests offered now, then those that wait for others.
    fn playable<'p>(
        &'p self,
        forecasts: &'p [Option<Forecast>],
        offered: &[Candidate<'_>],
        withheld: &[WithheldTest],
    ) -> Vec<(&'p Candidate<'p>, &'p Forecast, bool)> {
        let all = self.tests.iter().zip(forecasts);
        let playable = all.filter_map(|(candidate, forecast)| {
            let id = &candidate.test.id;
            let now = offered.iter().any(|offered| offered.test.id == *id);
            let waits = |held: &WithheldTest| held.test == *id && held.why == WithheldCode::NeedsProofFirst;
            (now || withheld.iter().any(waits)).then_some((candidate, forecast.as_ref()?, now))
        });
        let mut playable: Vec<_> = playable.collect();
        playable.sort_by_key(|(.., now)| !now);
        playable
    }

    fn cause_shares(&self, shares: &[f64]) -> Vec<CauseShare> {
        let model = self.model;
        let mut causes: Vec<CauseShare> = model
            .causes
            .iter()
            .enumerate()
            .filter_map(|(number, cause)| {
                let part = model.wiring.parts.get(cause.part)?.component;
                let of_cause = |hypothesis: &&Hypothesis| hypothesis.cause == number;
                let own: Vec<&Hypothesis> = self.posterior.hypotheses.iter().filter(of_cause).collect();
                let probability = *shares.get(number)?;
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
                    module: module_of(model, number),
                    ruled_out: self.ruled_out(&own, probability, &course),
                    grounds: course.grounds(&self.rows.rows, self.observations),
                })
            })
            .collect();
        causes.sort_by(|left, right| {
            right.probability.total_cmp(&left.probability).then(left.id.cmp(&right.id))
        });
        causes
    }

    fn open_fuses(&self, causes: &[CauseShare]) -> Vec<String> {
        let parts = &self.model.circuit().components;
        let is_fuse = |id: &str| {
            parts.iter().any(|part| part.id == id && matches!(part.kind, ComponentKind::Fuse { .. }))
        };
        let may_be_open = |cause: &&CauseShare| {
            cause.mode == FaultMode::Open
                && cause.probability >= FUSE_WORTH_NAMING
                && is_fuse(&cause.component)
        };
        causes.iter().filter(may_be_open).map(|cause| cause.component.clone()).collect()
    }

    /// Odds fallen 20-fold and under 1 %, and no severity left that fits every reading; with the reading that did most.
    fn ruled_out(&self, own: &[&Hypothesis], probability: f64, course: &Course) -> Option<RuledOut> {
        let prior: f64 = own.iter().map(|hypothesis| hypothesis.prior).sum();
        let odds = |share: f64| share / (1.0 - share).max(f64::MIN_POSITIVE);
        let factor = odds(prior) / odds(probability).max(1e-300);
        if probability >= GONE || factor < FALLEN || own.iter().any(|hypothesis| hypothesis.fits_all()) {
            return None;
        }
        let place = course.largest_drop(&self.rows.rows)?;
        Some(RuledOut { by: self.observations.get(place)?.id.clone(), factor })
    }

    fn expected(&self) -> Vec<Expected> {
        let hypotheses = &self.posterior.hypotheses;
        let leading = hypotheses.iter().max_by(|left, right| left.posterior.total_cmp(&right.posterior));
        let value = |predicted: Predicted| match predicted {
            Predicted::Value { value, .. } => Some(value),
            _ => None,
        };
        let under = |column: &Column| {
            let hypothesis = leading?;
            let cause = self.model.causes.get(hypothesis.cause)?;
            let u = hypothesis.best()?.u;
            value(column.curves.get(hypothesis.cause)?.at(u, cause.severity(u)))
        };
        self.done
            .iter()
            .filter_map(|done| {
                let column = self.model.columns.get(done.column)?;
                Some(Expected {
                    observation: done.observation.id.clone(),
                    healthy: value(column.healthy),
                    leading_cause: under(column),
                })
            })
            .collect()
    }
}

fn severity(own: &[&Hypothesis], cause: &crate::predict::cause::Cause) -> Option<SeverityEstimate> {
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
