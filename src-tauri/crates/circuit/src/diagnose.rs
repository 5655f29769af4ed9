//! From readings to a diagnosis: the one function callers use.

use crate::diagnosis::{
    CauseShare, Diagnosis, ENGINE, Expected, LikelihoodWord, Options, PairShare, RuledOut, SeverityEstimate,
};
use crate::doubt::doubts_of;
use crate::error::CircuitError;
use crate::forecast::{NEGLIGIBLE, particles_of};
use crate::gate::Case;
use crate::layout::Circuit;
use crate::likelihood::Row;
use crate::meter::Meter;
use crate::model::Model;
use crate::next_test::Choice;
use crate::observation::Observation;
use crate::offer::{Candidate, Done, split};
use crate::pairs::pairs_of;
use crate::posterior::{Hypothesis, Posterior};
use crate::reading::Predicted;
use crate::rows::{learn_battery, rows_of};
use crate::separable::{groups, shares_of};

/// Odds must have fallen at least so many times for "ruled out" …
const FALLEN: f64 = 20.0;
/// … and the posterior must be below this.
const GONE: f64 = 0.01;
/// Pairs below this aren't listed.
const PAIR_WORTH_NAMING: f64 = 0.001;

/// What the observations, in order of time, say about the circuit.
///
/// # Errors
/// Observations with unknown names, or whose value and mode don't go together; a circuit without solution.
pub fn diagnose(
    circuit: &Circuit,
    meter: &Meter,
    observations: &[Observation],
    options: &Options,
) -> Result<Diagnosis, CircuitError> {
    let mut model = Model::new(circuit, meter, options)?;
    let rows = rows_of(&mut model, observations)?;
    learn_battery(&mut model, &rows, options)?;
    let mut tests = Vec::with_capacity(circuit.tests.len());
    for (number, test) in circuit.tests.iter().enumerate() {
        tests.push(Candidate { test, column: model.column_of_test(number, test)? });
    }
    let mut done = Vec::with_capacity(observations.len());
    for observation in observations {
        done.push(Done { observation, column: model.column_of(observation)? });
    }
    let mut seen: Vec<usize> =
        rows.iter().map(|row| row.column).chain(done.iter().map(|done| done.column)).collect();
    seen.sort_unstable();
    seen.dedup();
    model.fill(&seen)?;
    let mut posterior = Posterior::of(&model, &rows, options);
    let shares = shares_of(&model, &posterior);
    model.fill_rest(|cause| shares.get(cause).is_some_and(|share| *share > NEGLIGIBLE))?;
    let pairs = weigh_pairs(&model, &rows, &mut posterior, options)?;
    Ok(assemble(&model, observations, options, &tests, &done, &rows, &posterior, pairs))
}

fn weigh_pairs(
    model: &Model<'_>,
    rows: &[Row],
    posterior: &mut Posterior,
    options: &Options,
) -> Result<Vec<PairShare>, CircuitError> {
    if posterior.something_fits_all() {
        return Ok(Vec::new());
    }
    let pairs = pairs_of(model, rows, posterior, options)?;
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
    Ok(named)
}

#[allow(clippy::too_many_arguments, reason = "the whole case, put together once")]
fn assemble(
    model: &Model<'_>,
    observations: &[Observation],
    options: &Options,
    tests: &[Candidate<'_>],
    done: &[Done<'_>],
    rows: &[Row],
    posterior: &Posterior,
    mut pairs: Vec<PairShare>,
) -> Diagnosis {
    let circuit = model.wiring.circuit;
    let particles = particles_of(posterior);
    let (offered, withheld_tests) = split(model, tests, done, options);
    let next = Choice::new(model, &offered, posterior, &particles, options).best(options.next_tests);
    let name = |cause: &usize| model.causes.get(*cause).map(|cause| cause.id.clone());
    let inseparable: Vec<Vec<String>> = groups(model, tests, posterior, &particles, options)
        .iter()
        .map(|group| group.iter().filter_map(name).collect())
        .collect();
    let causes = cause_shares(model, rows, observations, posterior);
    let doubts = doubts_of(posterior, rows, observations);
    let case = Case {
        model,
        tests,
        done,
        causes: &causes,
        pairs: &pairs,
        unmodelled: posterior.unmodelled,
        inseparable: &inseparable,
        doubts: &doubts,
        options,
    };
    let modules = circuit.modules.iter().map(|module| case.verdict(module)).collect();
    let expected = expected(model, posterior, done);
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
        expected,
        overturned_by: Vec::new(),
        pin_outs: Vec::new(),
        test_or_buy: Vec::new(),
    }
}

fn cause_shares(
    model: &Model<'_>,
    rows: &[Row],
    observations: &[Observation],
    posterior: &Posterior,
) -> Vec<CauseShare> {
    let shares = shares_of(model, posterior);
    let mut causes: Vec<CauseShare> = model
        .causes
        .iter()
        .enumerate()
        .filter_map(|(number, cause)| {
            let part = model.wiring.parts.get(cause.part)?.component;
            let own = posterior.hypotheses.iter().filter(|hypothesis| hypothesis.cause == number);
            let own: Vec<&Hypothesis> = own.collect();
            let probability = *shares.get(number)?;
            let fading = own.iter().filter(|hypothesis| hypothesis.comes_and_goes);
            Some(CauseShare {
                id: cause.id.clone(),
                component: part.id.clone(),
                mode: cause.spec.mode,
                probability,
                comes_and_goes: fading.map(|hypothesis| hypothesis.posterior).sum(),
                prior: own.iter().map(|hypothesis| hypothesis.prior).sum(),
                word: LikelihoodWord::of(probability),
                severity: severity(&own, &cause.severities),
                module: module_of(model, &part.id),
                ruled_out: ruled_out(posterior, &own, probability, rows, observations),
                grounds: Vec::new(),
            })
        })
        .collect();
    causes.sort_by(|left, right| right.probability.total_cmp(&left.probability).then(left.id.cmp(&right.id)));
    causes
}

fn module_of(model: &Model<'_>, part: &str) -> Option<String> {
    let modules = &model.wiring.circuit.modules;
    let inside = |component: &String| component == part;
    modules.iter().find(|module| module.components.iter().any(inside)).map(|module| module.id.clone())
}

fn severity(own: &[&Hypothesis], severities: &[f64]) -> Option<SeverityEstimate> {
    if severities.len() < 2 {
        return None;
    }
    let total: f64 = own.iter().map(|hypothesis| hypothesis.posterior).sum();
    let quantile = |share: f64| {
        let mut filled = 0.0;
        severities.iter().enumerate().find_map(|(i, severity)| {
            let at =
                |hypothesis: &&Hypothesis| hypothesis.posterior * hypothesis.shares.get(i).unwrap_or(&0.0);
            filled += own.iter().map(at).sum::<f64>();
            (filled >= share * total).then_some(*severity)
        })
    };
    Some(SeverityEstimate { low: quantile(0.05)?, median: quantile(0.5)?, high: quantile(0.95)? })
}

/// Odds fallen 20-fold and under 1 %, and no severity left that fits every reading; with the reading that did most.
fn ruled_out(
    posterior: &Posterior,
    own: &[&Hypothesis],
    probability: f64,
    rows: &[Row],
    observations: &[Observation],
) -> Option<RuledOut> {
    let prior: f64 = own.iter().map(|hypothesis| hypothesis.prior).sum();
    let odds = |share: f64| share / (1.0 - share).max(f64::MIN_POSITIVE);
    let factor = odds(prior) / odds(probability).max(1e-300);
    if probability >= GONE || factor < FALLEN || own.iter().any(|hypothesis| hypothesis.fits_all()) {
        return None;
    }
    let course: Vec<f64> = (0..=rows.len())
        .map(|i| {
            let log =
                |hypothesis: &&Hypothesis| hypothesis.prior.ln() + hypothesis.course.get(i).unwrap_or(&0.0);
            let own = crate::posterior::log_sum(own.iter().map(log));
            own - posterior.course.get(i).copied().unwrap_or(0.0)
        })
        .collect();
    let drops = course.windows(2).zip(rows).filter_map(|(step, row)| match step {
        [before, after] => Some((before - after, row.observation?)),
        _ => None,
    });
    let (_, place) = drops.max_by(|left, right| left.0.total_cmp(&right.0))?;
    Some(RuledOut { by: observations.get(place)?.id.clone(), factor })
}

fn expected(model: &Model<'_>, posterior: &Posterior, done: &[Done<'_>]) -> Vec<Expected> {
    let leading =
        posterior.hypotheses.iter().max_by(|left, right| left.posterior.total_cmp(&right.posterior));
    let value = |predicted: Predicted| match predicted {
        Predicted::Value { value, .. } => Some(value),
        _ => None,
    };
    let under = |column: &crate::model::Column| {
        let hypothesis = leading?;
        let best = hypothesis.shares.iter().enumerate().max_by(|left, right| left.1.total_cmp(right.1))?.0;
        let severity = *model.causes.get(hypothesis.cause)?.severities.get(best)?;
        value(column.curves.get(hypothesis.cause)?.at(best, severity))
    };
    done.iter()
        .filter_map(|done| {
            let column = model.columns.get(done.column)?;
            Some(Expected {
                observation: done.observation.id.clone(),
                healthy: value(column.healthy),
                leading_cause: under(column),
            })
        })
        .collect()
}
