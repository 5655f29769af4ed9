//! From readings to a diagnosis: a circuit prepared once, and the one function callers use.

use std::borrow::Cow;
use std::collections::BTreeMap;

use crate::answer::diagnosis::Diagnosis;
use crate::answer::options::Options;
use crate::call::case::Case;
use crate::call::finite;
use crate::choose::offer::{Candidate, Done};
use crate::choose::particles::NEGLIGIBLE;
use crate::error::CircuitError;
use crate::file::layout::Circuit;
use crate::file::meter::Meter;
use crate::file::observation::Observation;
use crate::predict::model::Model;
use crate::predict::recorded::compared;
use crate::weigh::pairs::{PairsFound, pairs_of};
use crate::weigh::pin_bound::{Worthy, worthy};
use crate::weigh::pin_out::{InDoubt, Way};
use crate::weigh::posterior::{Posterior, log_sum};
use crate::weigh::rows::Rows;
use crate::weigh::states::{Placed, placed};

/// While less than this speaks for something outside the circuit, a single cause with one reading gone astray is as good an
/// explanation as two faults, and no two are searched (judgment).
const WORTH_PAIRING: f64 = 0.01;

/// A circuit with every cause solved for every test: each diagnosis after that takes a fraction of the time.
#[derive(Debug, Clone)]
pub struct Engine<'a> {
    pub(super) model: Model<'a>,
    tests: Vec<Candidate<'a>>,
    options: Options,
}

impl<'a> Engine<'a> {
    /// Solves every cause for every test of the circuit.
    ///
    /// # Errors
    /// A circuit, a meter or options that can't be: [`crate::check::check`] says what is wrong in a circuit. A circuit
    /// without solution.
    pub fn new(circuit: &'a Circuit, meter: &Meter, options: &Options) -> Result<Self, CircuitError> {
        let mut engine = Self::unprepared(circuit, meter, options)?;
        engine.model.fill(0..engine.model.columns.len(), |_| true)?;
        Ok(engine)
    }

    /// With everything still to solve: for one diagnosis, which needs only a part of it.
    fn unprepared(circuit: &'a Circuit, meter: &Meter, options: &Options) -> Result<Self, CircuitError> {
        meter.check()?;
        options.check()?;
        circuit.ready()?;
        let mut model = Model::new(circuit, meter, options)?;
        let mut tests = Vec::with_capacity(circuit.tests.len());
        // A test with a condition is for a fault that hides; what a fault that shows would give says nothing for it.
        for (number, test) in circuit.tests.iter().enumerate().filter(|(_, test)| test.condition.is_none()) {
            tests.push(Candidate { test, column: model.column_of_test(number, test)? });
        }
        Ok(Self { model, tests, options: options.clone() })
    }

    /// What the observations, in order of time, say about the circuit.
    ///
    /// # Errors
    /// Observations with unknown names, or whose value and mode don't go together; a circuit without solution;
    /// probabilities that are no numbers.
    pub fn diagnose(&self, observations: &[Observation]) -> Result<Diagnosis, CircuitError> {
        self.diagnose_with(observations, &self.options)
    }

    /// As [`Engine::diagnose`], with other options than it was prepared with: what can't be reached, prices and pins
    /// in doubt change during a job. Further meters are the ones it was prepared with.
    ///
    /// # Errors
    /// As [`Engine::diagnose`].
    pub fn diagnose_with(
        &self,
        observations: &[Observation],
        options: &Options,
    ) -> Result<Diagnosis, CircuitError> {
        options.check()?;
        let observations = compared(self.model.circuit(), observations);
        let observations = observations.as_ref();
        // The same readings give the same digits, whatever was asked before.
        self.model.clear_solutions();
        let in_doubt = InDoubt::of(self.model.circuit(), options)?;
        let mut model = self.model.clone();
        let ways = worthy(&mut model, &in_doubt, observations, options)?;
        let mut weighed = WeighedWays::default();
        for (i, one) in ways.iter().enumerate() {
            if weighed.is_enough(ways.get(i..).unwrap_or_default()) {
                break;
            }
            let seen = in_doubt.assigned(&one.way, observations)?;
            let best = weighed.best().map(|best| best - one.way.prior.ln());
            weighed.add(one, self.weigh(&model, &seen, options, best)?, seen);
        }
        let (shares, kept) = weighed.shares(&ways);
        let blended = blend(weighed.all.iter().map(|(found, _)| &found.posterior).zip(&kept));
        let best = kept.iter().enumerate().max_by(|left, right| left.1.total_cmp(right.1));
        let place = best.map_or(0, |(place, _)| place);
        let Some((mut found, seen)) = weighed.all.into_iter().nth(place) else {
            return Err(CircuitError::NoSolution("no pin assignment is possible".to_owned()));
        };
        found.take(blended);
        let mut diagnosis = found.diagnosis(&self.tests, &seen, options)?;
        diagnosis.pin_outs = in_doubt.found(&shares);
        finite::diagnosis(diagnosis)
    }

    pub(super) fn weigh(
        &self,
        model: &Model<'a>,
        observations: &[Observation],
        options: &Options,
        best: Option<f64>,
    ) -> Result<Weighed<'a>, CircuitError> {
        let mut model = model.clone();
        let placed = columns_of(&mut model, observations)?;
        let rows = Rows::of(&mut model, observations, &placed)?;
        let weighed = rows.rows.iter().flat_map(|row| row.columns());
        let all = placed.iter().flat_map(|placed| placed.columns.iter().copied());
        model.fill(weighed.chain(all).map(|(column, _)| column), |_| true)?;
        let columns = placed.iter().map(Placed::only).collect();
        let posterior = Posterior::of(&model, &rows, options, best);
        finite::posterior(&model, &posterior)?;
        Ok(Weighed { model, rows, columns, posterior })
    }
}

/// Columns of the observations. The same thing is looked at again and again; its column is looked up once.
fn columns_of(model: &mut Model<'_>, observations: &[Observation]) -> Result<Vec<Placed>, CircuitError> {
    let mut known: BTreeMap<_, Placed> = BTreeMap::new();
    let mut columns = Vec::with_capacity(observations.len());
    for one in observations {
        let range = one.over().map(f64::to_bits);
        let place = (one.mode, &one.test, &one.red, &one.black, &one.meter, range, &one.load, &one.state);
        let found = match known.get(&place) {
            Some(found) => found.clone(),
            None => placed(model, one)?,
        };
        known.insert(place, found.clone());
        columns.push(found);
    }
    Ok(columns)
}

/// Observations, weighed.
pub(super) struct Weighed<'a> {
    pub(super) model: Model<'a>,
    rows: Rows,
    /// One for each observation: [`NO_COLUMN`](crate::weigh::states::NO_COLUMN) where its state isn't known.
    columns: Vec<usize>,
    pub(super) posterior: Posterior,
}

impl Weighed<'_> {
    /// Probabilities over all ways the pins may be assigned.
    fn take(&mut self, (hypotheses, unmodeled): (Vec<f64>, f64)) {
        for (hypothesis, posterior) in self.posterior.hypotheses.iter_mut().zip(hypotheses) {
            hypothesis.posterior = posterior;
        }
        self.posterior.unmodeled = unmodeled;
    }

    fn diagnosis(
        mut self,
        tests: &[Candidate<'_>],
        observations: &[Observation],
        options: &Options,
    ) -> Result<Diagnosis, CircuitError> {
        // What is ruled out plays no part in choosing tests.
        let shares = self.posterior.shares(self.model.causes.len());
        let rest = 0..self.model.columns.len();
        self.model.fill(rest, |cause| shares.get(cause).is_some_and(|share| *share > NEGLIGIBLE))?;
        let unexplained = self.posterior.unexplained(&self.model, &self.rows);
        let worth = unexplained > 1 || (unexplained == 1 && self.posterior.unmodeled >= WORTH_PAIRING);
        let pairs = if worth {
            let pairs = pairs_of(&self.model, &self.rows, &self.posterior, options)?;
            PairsFound::of(&self.model, pairs, &mut self.posterior)
        } else {
            PairsFound::default()
        };
        let done = observations.iter().zip(&self.columns);
        let done: Vec<Done<'_>> =
            done.map(|(observation, column)| Done { observation, column: *column }).collect();
        let case = Case {
            model: &self.model,
            rows: &self.rows,
            observations,
            done: &done,
            tests,
            posterior: &self.posterior,
            options,
        };
        Ok(case.diagnosis(pairs))
    }
}

/// Readings that are weighed at most, over all ways to assign pins: the ways that are left are judged by how far the others stay
/// below their bounds.
const ROWS: usize = 100;
/// Ways that are weighed in any case.
const WAYS: usize = 8;
/// Ways that can't come to more than this share aren't weighed …
const LEFT: f64 = 1e-4;
/// … even if they stay so many times less below their bounds than those that were.
const WARY: f64 = 30.0;

/// Ways to assign pins, weighed in the order of their bounds.
#[derive(Default)]
struct WeighedWays<'a, 'o> {
    all: Vec<(Weighed<'a>, Cow<'o, [Observation]>)>,
    /// Logarithm of evidence and prior of each.
    logs: Vec<f64>,
    bounds: f64,
}

impl<'a, 'o> WeighedWays<'a, 'o> {
    fn add(&mut self, one: &Worthy, found: Weighed<'a>, seen: Cow<'o, [Observation]>) {
        self.logs.push(one.way.prior.ln() + found.posterior.log_total);
        self.bounds += one.bound;
        self.all.push((found, seen));
    }

    /// Logarithm of evidence and prior of the best.
    fn best(&self) -> Option<f64> {
        self.logs.iter().copied().reduce(f64::max)
    }

    fn is_enough(&self, rest: &[Worthy]) -> bool {
        let rest: f64 = rest.iter().map(|one| one.bound).sum();
        let rows: usize = self.all.iter().map(|(found, _)| found.rows.rows.len()).sum();
        let spent = self.all.len() >= WAYS && rows >= ROWS;
        spent || (!self.all.is_empty() && rest * WARY < LEFT * self.bounds)
    }

    /// The share of every way, and of those that were weighed among themselves.
    fn shares(&self, ways: &[Worthy]) -> (Vec<(Way, f64)>, Vec<f64>) {
        let weighed = log_sum(self.logs.iter().copied());
        let kept: Vec<f64> = self.logs.iter().map(|log| (log - weighed).exp()).collect();
        let rest =
            ways.iter().skip(self.logs.len()).map(|one| one.bound / self.bounds.max(f64::MIN_POSITIVE));
        let all: Vec<f64> = kept.iter().copied().chain(rest).collect();
        let sum: f64 = all.iter().sum();
        let share = |(one, share): (&Worthy, &f64)| (one.way.clone(), share / sum);
        (ways.iter().zip(&all).map(share).collect(), kept)
    }
}

fn blend<'p>(weighed: impl Iterator<Item = (&'p Posterior, &'p f64)>) -> (Vec<f64>, f64) {
    let (mut hypotheses, mut unmodeled) = (Vec::new(), 0.0);
    for (posterior, share) in weighed {
        hypotheses.resize(posterior.hypotheses.len(), 0.0);
        for (all, hypothesis) in hypotheses.iter_mut().zip(&posterior.hypotheses) {
            *all += share * hypothesis.posterior;
        }
        unmodeled += share * posterior.unmodeled;
    }
    (hypotheses, unmodeled)
}

/// What the observations, in order of time, say about the circuit: as an [`Engine`] asked once, which needs to solve
/// only a part.
///
/// # Errors
/// As [`Engine::new`] and [`Engine::diagnose`].
pub fn diagnose(
    circuit: &Circuit,
    meter: &Meter,
    observations: &[Observation],
    options: &Options,
) -> Result<Diagnosis, CircuitError> {
    Engine::unprepared(circuit, meter, options)?.diagnose(observations)
}
