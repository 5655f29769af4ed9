//! Two faults at once, weighed only where no single cause fits: around the singles that survive best.

use crate::answer::cause_share::PairShare;
use crate::answer::options::Options;
use crate::error::CircuitError;
use crate::file::observation::ObservedValue;
use crate::predict::cause::Cause;
use crate::predict::curve::Curve;
use crate::predict::model::Model;
use crate::predict::reading::Predicted;
use crate::weigh::belief::Belief;
use crate::weigh::likelihood::Scale;
use crate::weigh::posterior::{Hypothesis, Posterior, log_sum};
use crate::weigh::prior::Priors;
use crate::weigh::rows::{Row, Rows};
use crate::weigh::severities::{Faced, Further, Weighing};
use crate::weigh::term::{Term, gauss};

/// Singles that are paired.
const SURVIVORS: usize = 3;
/// Pairs that are integrated over both severities.
const INTEGRATED: usize = 5;
/// Severities of the second fault to begin with, and at most.
const SECOND: usize = 3;
const SECOND_AT_MOST: usize = 12;
/// Halving its steps goes on until the logarithm of the evidence changes less than this.
const SETTLED: f64 = 0.2;
/// A pair that stays this far (logarithm) below all others isn't looked into.
const HOPELESS: f64 = 5.0;
/// Severities of a pair that stay this far (logarithm) below all the rest aren't looked into.
const WORTH: f64 = 12.0;
/// Chance that a circuit with one fault has a second, independent one (judgment).
const SECOND_FAULT: f64 = 0.1;

/// Pairs below this aren't listed: all that is listed adds up to 1.
const PAIR_WORTH_NAMING: f64 = 1e-9;

/// A pair with its prior and the logarithm of its evidence.
pub(crate) struct Pair {
    pub causes: [usize; 2],
    pub prior: f64,
    pub log: f64,
}

/// Pairs around the best singles. Readings only where the complaint was present count fully; all are used.
///
/// # Errors
/// A circuit without solution.
pub(crate) fn pairs_of(
    model: &Model<'_>,
    rows: &Rows,
    posterior: &Posterior,
    options: &Options,
) -> Result<Vec<Pair>, CircuitError> {
    let first = rows.rows.iter().map(|row| row.column);
    let further = rows.rows.iter().flat_map(|row| row.further.iter().map(|(column, _)| *column));
    let case = PairCase { model, rows, options, columns: first.chain(further).collect() };
    let mut steady: Vec<_> =
        posterior.hypotheses.iter().filter(|hypothesis| !hypothesis.comes_and_goes).collect();
    steady.sort_by(|left, right| right.posterior.total_cmp(&left.posterior));
    let priors = Priors::of(model, options);
    let prior = |cause: usize| priors.causes.get(cause).copied().unwrap_or(0.0);
    let mut pairs: Vec<Pair> = Vec::new();
    for first in steady.iter().take(SURVIVORS) {
        for second in &steady {
            let causes = [first.cause, second.cause];
            let turned = [second.cause, first.cause];
            let parts = causes.map(|cause| model.causes.get(cause).map(|cause| cause.part));
            let known = pairs.iter().any(|pair| pair.causes == causes || pair.causes == turned);
            if parts.first() == parts.last() || known || !helps(first, second) {
                continue;
            }
            let prior = prior(first.cause) * prior(second.cause) * SECOND_FAULT;
            pairs.push(Pair { causes, prior, log: case.glimpse(first, second)? });
        }
    }
    pairs.sort_by(|left, right| weight(right).total_cmp(&weight(left)));
    let beside = posterior.log_total.max(pairs.first().map_or(f64::NEG_INFINITY, weight));
    let worth = pairs.iter().take(INTEGRATED).filter(|pair| weight(pair) > beside - HOPELESS).count();
    pairs.truncate(worth);
    for pair in &mut pairs {
        pair.log = case.evidence(pair, beside - pair.prior.ln())?;
    }
    Ok(pairs)
}

/// Pairs of faults with their shares.
#[derive(Debug, Default)]
pub(crate) struct PairsFound {
    all: Vec<PairShare>,
}

impl PairsFound {
    /// Gives the pairs their share of the posterior.
    pub fn of(model: &Model<'_>, pairs: Vec<Pair>, posterior: &mut Posterior) -> Self {
        let weights: Vec<(f64, f64)> = pairs.iter().map(|pair| (pair.prior, pair.log)).collect();
        let shares = posterior.make_room(&weights);
        let name = |cause: &usize| model.causes.get(*cause).map(|cause| cause.id.clone());
        let mut all: Vec<PairShare> = pairs
            .iter()
            .zip(shares)
            .map(|(pair, probability)| PairShare {
                causes: pair.causes.iter().filter_map(name).collect(),
                probability,
            })
            .collect();
        all.sort_by(|left, right| right.probability.total_cmp(&left.probability));
        Self { all }
    }

    /// Every pair, most probable first: what the gate looks at.
    pub fn all(&self) -> &[PairShare] {
        &self.all
    }

    /// Those worth naming.
    pub fn worth_naming(self) -> Vec<PairShare> {
        let mut pairs = self.all;
        pairs.retain(|pair| pair.probability >= PAIR_WORTH_NAMING);
        pairs
    }
}

fn weight(pair: &Pair) -> f64 {
    pair.prior.ln() + pair.log
}

/// Does the second fault, alone, explain a row that the first at its most probable severity doesn't?
fn helps(first: &Hypothesis, second: &Hypothesis) -> bool {
    let explained = first.best().map(|best| best.agrees.clone()).unwrap_or_default();
    second.nodes.iter().any(|node| !explained.contains_all(&node.agrees))
}

struct PairCase<'c, 'a> {
    model: &'c Model<'a>,
    rows: &'c Rows,
    options: &'c Options,
    columns: Vec<usize>,
}

impl PairCase<'_, '_> {
    /// Highest likelihood at a few severities, what readings share left aside.
    fn glimpse(&self, first: &Hypothesis, second: &Hypothesis) -> Result<f64, CircuitError> {
        let scale = Scale::new(&self.model.meters, self.options);
        let mut best = f64::NEG_INFINITY;
        for left in [first.best().map_or(0.5, |best| best.u)] {
            for right in [second.best().map_or(0.5, |best| best.u), 0.7] {
                let faults = [(first.cause, left), (second.cause, right)];
                let faults =
                    faults.map(|(cause, u)| self.model.causes.get(cause).map(|cause| cause.failing(u)));
                let faults: Vec<_> = faults.into_iter().flatten().collect();
                let predicted = self.model.with_faults(&self.columns, &faults)?;
                let (first, mut rest) = predicted.split_at(self.rows.rows.len().min(predicted.len()));
                let mut all = 0.0;
                for (row, predicted) in self.rows.rows.iter().zip(first) {
                    let (own, others) = rest.split_at(row.further.len().min(rest.len()));
                    rest = others;
                    let states = std::iter::once(predicted).chain(own).zip(row.columns());
                    all += log_sum(states.map(|(shown, (_, share))| share + roughly(scale, row, *shown)));
                }
                best = best.max(all);
            }
        }
        Ok(best)
    }

    /// Both severities integrated: the second by halving its steps until nothing changes, the first along its curves.
    /// `best` is the logarithm at which the pair would be as likely as all the rest.
    fn evidence(&self, pair: &Pair, best: f64) -> Result<f64, CircuitError> {
        let [Some(first), Some(second)] = pair.causes.map(|cause| self.model.causes.get(cause)) else {
            return Ok(f64::NEG_INFINITY);
        };
        // The one with a range outside, the longer curve inside.
        let (inner, outer) = if first.has_range() { (first, second) } else { (second, first) };
        let scale = Scale::new(&self.model.meters, self.options);
        let points = self.options.points_per_decade / 2;
        let mut weighing = Weighing::new(&self.rows.rows, scale, points, self.rows.supply);
        weighing.beside(best, WORTH);
        if !outer.has_range() {
            return self.beside(&mut weighing, inner, outer, 0.5);
        }
        let (mut count, mut before) = (SECOND, f64::NEG_INFINITY);
        loop {
            let mut logs = Vec::with_capacity(count);
            for i in 0..count {
                logs.push(self.beside(&mut weighing, inner, outer, (number(i) + 0.5) / number(count))?);
            }
            let log = log_sum(logs.iter().copied()) - number(count).ln();
            if (log - before).abs() < SETTLED || count >= SECOND_AT_MOST {
                return Ok(log);
            }
            (before, count) = (log, count * 2);
        }
    }

    fn beside(
        &self,
        weighing: &mut Weighing<'_>,
        inner: &Cause,
        outer: &Cause,
        u: f64,
    ) -> Result<f64, CircuitError> {
        let curves: Vec<Curve> = self.model.curves_beside(&self.columns, &[outer.failing(u)], inner)?;
        let (first, rest) = curves.split_at(self.rows.rows.len().min(curves.len()));
        let healthy = vec![Predicted::Anything; first.len()];
        let in_doubt = self.rows.rows.iter().enumerate();
        let shares = in_doubt.flat_map(|(i, row)| row.further.iter().map(move |(_, share)| (i, *share)));
        let further = shares.zip(rest).map(|((row, share), curve)| Further {
            row,
            share,
            curve,
            healthy: Predicted::Anything,
        });
        let (curves, further) = (first.iter().collect(), further.collect());
        let faced = Faced { cause: inner, curves, healthy, further, comes_and_goes: false };
        Ok(weighing.integrate(&faced).course.last().copied().unwrap_or(f64::NEG_INFINITY))
    }
}

/// Logarithm of a row's likelihood with everything that sways it counted as its own.
fn roughly(scale: Scale<'_>, row: &Row, predicted: Predicted) -> f64 {
    match (row.value, scale.term(row, predicted)) {
        (ObservedValue::Number(reading), Term::Reading { mean, sigma, sway }) => {
            let (_, swayed) = Belief::new().offset(&sway);
            (gauss(reading - mean, sigma.hypot(swayed.sqrt())) + scale.astray(row)).ln()
        }
        (_, Term::Chance(log)) => log,
        _ => f64::NEG_INFINITY,
    }
}

fn number(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}
