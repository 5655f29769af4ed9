//! Two faults at once, weighed only where no single cause fits: around the singles that survive best.

use std::cell::RefCell;
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::rc::Rc;

use crate::answer::cause_share::PairShare;
use crate::answer::options::Options;
use crate::error::CircuitError;
use crate::predict::cause::Cause;
use crate::predict::curve::Curve;
use crate::predict::model::Model;
use crate::predict::reading::Predicted;
use crate::weigh::glance::Glance;
use crate::weigh::likelihood::Scale;
use crate::weigh::posterior::{Hypothesis, Posterior, log_sum, rank};
use crate::weigh::prior::Priors;
use crate::weigh::ready_row::ReadyRow;
use crate::weigh::rows::Rows;
use crate::weigh::severities::{Faced, Further, Integrated, Weighing};

/// Singles that are paired with all others.
const SURVIVORS: usize = 6;
/// Pairs that are solved, of all that were glanced at.
const SOLVED: usize = 24;
/// Pairs whose severities are searched together, and those that are integrated over both.
const SEARCHED: usize = 6;
const INTEGRATED: usize = 4;
/// So many times as coarse as a single cause is integrated.
const SEARCHED_COARSELY: u32 = 6;
const INTEGRATED_COARSELY: u32 = 3;
/// Turns in which one severity is searched beside the other.
const TURNS: usize = 2;
/// Severities of the second fault at which a pair is solved to begin with, beside the best one found, and most of all.
const SECOND: [f64; 3] = [0.1, 0.5, 0.9];
const SECOND_AT_MOST: usize = 12;
/// Its steps are halved around the best until the logarithm of the evidence moves less than this between two.
const SETTLED: f64 = 1.5;
/// A pair that stays this far (logarithm) below all others isn't looked into.
const HOPELESS: f64 = 5.0;
/// One that is solved at two severities only may still gain this much (logarithm) when its severities are searched.
const MAY_GAIN: f64 = 60.0;
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
    /// The severities, as shares, at which both together explain most so far.
    best: [f64; 2],
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
    let case = PairCase::of(model, rows, options);
    let mut steady: Vec<_> =
        posterior.hypotheses.iter().filter(|hypothesis| !hypothesis.comes_and_goes).collect();
    steady.sort_by_key(|hypothesis| (Reverse(rank(hypothesis.posterior.ln())), hypothesis.cause));
    let priors = Priors::of(model, options);
    let prior = |cause: usize| priors.causes.get(cause).copied().unwrap_or(0.0);
    let glance = Glance::of(model, rows, options, &steady);
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
            let (log, best) = glance.at(causes);
            pairs.push(Pair { causes, prior, log, best });
        }
    }
    by_weight(&mut pairs);
    pairs.truncate(SOLVED);
    for pair in &mut pairs {
        pair.log = case.solved(pair.causes, pair.best)?;
    }
    by_weight(&mut pairs);
    let best = pairs.first().map_or(f64::NEG_INFINITY, weight);
    pairs.retain(|pair| weight(pair) > best - MAY_GAIN);
    pairs.truncate(SEARCHED);
    for pair in &mut pairs {
        case.search(pair)?;
    }
    by_weight(&mut pairs);
    let beside = posterior.log_total.max(pairs.first().map_or(f64::NEG_INFINITY, weight));
    pairs.retain(|pair| weight(pair) > beside - HOPELESS);
    pairs.truncate(INTEGRATED);
    for pair in &mut pairs {
        pair.log = case.evidence(pair, beside - pair.prior.ln())?;
    }
    Ok(pairs)
}

fn by_weight(pairs: &mut [Pair]) {
    pairs.sort_by_key(|pair| (Reverse(rank(weight(pair))), pair.causes));
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
    ready: Vec<ReadyRow>,
    /// Columns of the rows, each once: a reading that was taken again shows the same.
    columns: Vec<usize>,
    /// Of each row, then of each further state of a row: its place among the columns.
    places: Vec<usize>,
    /// Curves solved so far: the search of a pair comes back to where it was.
    known: RefCell<BTreeMap<Beside, Rc<Vec<Curve>>>>,
}

/// One cause along its severities beside another at one of its own (bits of the share).
type Beside = (usize, usize, u64);

impl<'c, 'a> PairCase<'c, 'a> {
    fn of(model: &'c Model<'a>, rows: &'c Rows, options: &'c Options) -> Self {
        let first = rows.rows.iter().map(|row| row.column);
        let further = rows.rows.iter().flat_map(|row| row.further.iter().map(|(column, _)| *column));
        let (mut columns, mut places): (Vec<usize>, Vec<usize>) = (Vec::new(), Vec::new());
        for column in first.chain(further) {
            let known = columns.iter().position(|known| *known == column);
            places.push(known.unwrap_or(columns.len()));
            if known.is_none() {
                columns.push(column);
            }
        }
        let scale = Scale::new(&model.meters, options);
        let ready = rows.rows.iter().map(|row| ReadyRow::of(scale, row)).collect();
        Self { model, rows, options, ready, columns, places, known: RefCell::default() }
    }
}

impl PairCase<'_, '_> {
    /// Logarithm of the likelihood at two severities, what readings share left aside.
    fn solved(&self, causes: [usize; 2], at: [f64; 2]) -> Result<f64, CircuitError> {
        let faults = causes.into_iter().zip(at);
        let faults = faults.filter_map(|(cause, u)| Some(self.model.causes.get(cause)?.failing(u)));
        let shown = self.model.with_faults(&self.columns, &faults.collect::<Vec<_>>())?;
        let at = |place: &usize| shown.get(*place).copied().unwrap_or(Predicted::Anything);
        let predicted: Vec<Predicted> = self.places.iter().map(at).collect();
        Ok(self.roughly(&predicted))
    }

    /// Logarithm of all rows' likelihoods; where a state is in doubt, of its ways together.
    fn roughly(&self, predicted: &[Predicted]) -> f64 {
        let (first, mut rest) = predicted.split_at(self.rows.rows.len().min(predicted.len()));
        let mut all = 0.0;
        for ((row, ready), predicted) in self.rows.rows.iter().zip(&self.ready).zip(first) {
            let (own, others) = rest.split_at(row.further.len().min(rest.len()));
            rest = others;
            let states = std::iter::once(predicted).chain(own).zip(row.columns());
            let roughly = |shown: &Predicted| ready.roughly(row, ready.term(row, *shown));
            all += log_sum(states.map(|(shown, (_, share))| share + roughly(shown)));
        }
        all
    }

    /// Searches both severities: one along its curves beside the other, turn by turn. What either explains alone tells
    /// little of what they explain together.
    fn search(&self, pair: &mut Pair) -> Result<(), CircuitError> {
        let [first, second] = pair.causes;
        let mut weighing = self.weighing(SEARCHED_COARSELY);
        let ([mut left, mut right], mut log) = (pair.best, f64::NEG_INFINITY);
        for _ in 0..TURNS {
            let before = [left, right];
            for turned in [false, true] {
                let (inner, outer, fixed) =
                    if turned { (second, first, left) } else { (first, second, right) };
                let found = self.beside(inner, outer, fixed, |faced| weighing.integrate(faced))?;
                let best = found.nodes.iter().max_by_key(|node| (rank(node.log), Reverse(node.u.to_bits())));
                let Some(best) = best.filter(|best| rank(best.log) > rank(log)) else { continue };
                log = best.log;
                if turned { right = best.u } else { left = best.u }
            }
            // A further turn would find the same.
            if before == [left, right] {
                break;
            }
        }
        (pair.best, pair.log) = ([left, right], log);
        Ok(())
    }

    /// Both severities integrated: the first along its curves, the second in steps that are halved around the best.
    /// `best` is the logarithm at which the pair would be as likely as all the rest.
    fn evidence(&self, pair: &Pair, best: f64) -> Result<f64, CircuitError> {
        let [first, second] = pair.causes;
        let ranges = |cause: usize| self.model.causes.get(cause).is_some_and(Cause::has_range);
        // The one with a range inside, where it is integrated along its curves.
        let turned = !ranges(first);
        let (inner, outer, found) =
            if turned { (second, first, pair.best[0]) } else { (first, second, pair.best[1]) };
        let mut weighing = self.weighing(INTEGRATED_COARSELY);
        weighing.beside(best, WORTH);
        let mut integrate = |faced: &Faced<'_>| last(&weighing.integrate(faced));
        let mut at = |u: f64| Ok::<_, CircuitError>((u, self.beside(inner, outer, u, &mut integrate)?));
        if !ranges(outer) {
            return Ok(at(0.5)?.1);
        }
        let mut steps: Vec<(f64, f64)> =
            SECOND.into_iter().chain([found]).map(&mut at).collect::<Result<_, _>>()?;
        loop {
            steps.sort_by(|left, right| left.0.total_cmp(&right.0));
            match widest(&steps).filter(|_| steps.len() < SECOND_AT_MOST) {
                Some(u) => steps.push(at(u)?),
                None => return Ok(between(&steps)),
            }
        }
    }

    fn weighing(&self, coarsely: u32) -> Weighing<'_> {
        let scale = Scale::new(&self.model.meters, self.options);
        Weighing::new(&self.rows.rows, scale, self.options.points_per_decade / coarsely, self.rows.supply)
    }

    /// Weighs one cause beside another at one of its severities.
    fn beside<T>(
        &self,
        inner: usize,
        outer: usize,
        u: f64,
        weigh: impl FnOnce(&Faced<'_>) -> T,
    ) -> Result<T, CircuitError> {
        let Some(cause) = self.model.causes.get(inner) else { return Err(gone()) };
        let all = self.curves(inner, outer, u)?;
        let curves = self.places.iter().filter_map(|place| all.get(*place));
        let count = self.rows.rows.len();
        let in_doubt = self.rows.rows.iter().enumerate();
        let shares = in_doubt.flat_map(|(i, row)| row.further.iter().map(move |(_, share)| (i, *share)));
        let further = shares.zip(curves.clone().skip(count)).map(|((row, share), curve)| Further {
            row,
            share,
            curve,
            healthy: Predicted::Anything,
        });
        let (curves, further) = (curves.take(count).collect(), further.collect());
        let healthy = vec![Predicted::Anything; count];
        let faced = Faced { cause, curves, healthy, further, comes_and_goes: false };
        Ok(weigh(&faced))
    }

    /// Curves of one cause beside another, solved once. A cause without severities is the same at each of them.
    fn curves(&self, inner: usize, outer: usize, u: f64) -> Result<Rc<Vec<Curve>>, CircuitError> {
        let causes = self.model.causes.get(inner).zip(self.model.causes.get(outer));
        let (cause, other) = causes.ok_or_else(gone)?;
        let key = (inner, outer, if other.has_range() { u.to_bits() } else { 0 });
        if let Some(known) = self.known.borrow().get(&key) {
            return Ok(known.clone());
        }
        let solved = Rc::new(self.model.curves_beside(&self.columns, &[other.failing(u)], cause)?);
        self.known.borrow_mut().insert(key, solved.clone());
        Ok(solved)
    }
}

/// A pair is of two causes of the model.
fn gone() -> CircuitError {
    CircuitError::NoSolution("a pair of faults names a cause that isn't there".to_owned())
}

/// Logarithm of the evidence of all rows.
fn last(integrated: &Integrated) -> f64 {
    integrated.course.last().copied().unwrap_or(f64::NEG_INFINITY)
}

/// Where the next step belongs: beside the best one, on the side where the evidence falls off more.
fn widest(steps: &[(f64, f64)]) -> Option<f64> {
    let best = steps.iter().enumerate().max_by_key(|(_, (_, log))| rank(*log))?.0;
    let side = |from: usize, to: usize| {
        let (left, right) = (steps.get(from)?, steps.get(to)?);
        let falls = (left.1 - right.1).abs();
        (falls > SETTLED && right.0 - left.0 > 1e-4).then(|| (falls, f64::midpoint(left.0, right.0)))
    };
    let before = best.checked_sub(1).and_then(|before| side(before, best));
    let sides = before.into_iter().chain(side(best, best + 1));
    sides.max_by_key(|(falls, _)| rank(*falls)).map(|(_, u)| u)
}

/// Logarithm of the integral over 0 to 1, straight between the steps and level beyond the first and the last.
fn between(steps: &[(f64, f64)]) -> f64 {
    let half = 0.5_f64.ln();
    let inside = steps.windows(2).filter_map(|pair| match pair {
        [(from, low), (to, high)] if to > from => {
            Some((to - from).ln() + half + log_sum([*low, *high].into_iter()))
        }
        _ => None,
    });
    let ends =
        [steps.first().map(|(u, log)| u.ln() + log), steps.last().map(|(u, log)| (1.0 - u).ln() + log)];
    let all: Vec<f64> = inside.chain(ends.into_iter().flatten()).collect();
    log_sum(all.iter().copied())
}
