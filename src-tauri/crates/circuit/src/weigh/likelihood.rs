//! How probable an observation is under a prediction.
//!
//! Readings: (1 − ε)·N(observed; predicted, σ) + ε·flat, with ε the chance of a mis-probe. Answers: their own
//! error rates. The flat density also stands for "something this circuit doesn't contain". What readings share (the
//! battery's volts, a meter's gain) is kept apart from each reading's own σ: see `belief`.

use crate::answer::options::Options;
use crate::file::meter::{Accuracy, Meter};
use crate::file::observation::{MeasureMode, ObservedValue};
use crate::predict::reading::Predicted;
use crate::solve::part::SPREAD;
use crate::weigh::belief::{Belief, Sway};
use crate::weigh::rows::Row;
use crate::weigh::term::{Term, gauss};

/// Readings farther off than this many standard deviations don't fit.
pub(crate) const FITS_WITHIN: f64 = 3.0;
/// Width of the flat density of volts: from reverse polarity to a charging battery (judgment).
const FLAT_VOLTS: f64 = 15.0;
/// Most of what a lead on a wrong point, or a fault outside the circuit, shows is nothing at all or the battery: share of
/// each, and how widely it lies around, volts (judgment). A lead that touches nothing shows nothing.
const AT_NOTHING: f64 = 0.35;
const AT_BATTERY: f64 = 0.2;
const AROUND_NOTHING: f64 = 0.02;
const AROUND_BATTERY: f64 = 0.3;
/// Width of the flat density of amperes (judgment).
const FLAT_AMPS: f64 = 30.0;
/// Width of the flat density of duty, percent; share of displays of a driver's usual duty, and how widely they lie around it: what
/// some meters show at a small swing, and what another wire of the same output shows (judgment).
const FLAT_DUTY: f64 = 100.0;
const AT_USUAL: f64 = 0.4;
const AROUND_USUAL: f64 = 0.7;
/// Width of the flat density of AC volts and of hertz, at a wheel turned by hand (judgment).
const FLAT_VOLTS_AC: f64 = 2.0;
const FLAT_HERTZ: f64 = 200.0;
/// Share of over-limit displays when anything may be shown (judgment).
const FLAT_OVER_LIMIT: f64 = 0.25;
/// Share of readings that a fault outside the circuit leaves as they are (judgment).
const UNTOUCHED: f64 = 0.5;
/// Lowest resistance a meter tells from zero, ohm (common practice).
const FLAT_OHMS_FROM: f64 = 0.1;

/// Meters and chances that weigh a row.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Scale<'m> {
    meters: &'m [Meter],
    pub mis_probe: f64,
}

/// A meter's own error in one mode.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Grain {
    accuracy: Option<Accuracy>,
    at_zero: f64,
}

impl Grain {
    fn gain_and_rest(&self, reading: f64) -> (f64, f64) {
        let all = self.accuracy.map_or(0.0, |accuracy| accuracy.sigma(reading));
        let gain = all - self.at_zero;
        (gain.copysign(reading), (all * all - gain * gain).max(0.0).sqrt())
    }

    /// A reading's term under a predicted value.
    pub fn reading(&self, row: &Row, value: f64, scatter: f64, supply: f64, spread: [f64; SPREAD]) -> Term {
        let (gain, rest) = self.gain_and_rest(value);
        let sway = Sway::of([(row.supply, supply), (row.gain, gain)], spread);
        // What finds no place among the shared ones stays the reading's own.
        let alone = |place: Option<usize>, by: f64| if place.is_none() { by * by } else { 0.0 };
        let own = scatter * scatter + alone(row.supply, supply) + alone(row.gain, gain);
        let sigma = (own * row.placements + rest * rest * row.same_meter).sqrt();
        Term::Reading { mean: value, sigma, sway }
    }
}

impl<'m> Scale<'m> {
    pub fn new(meters: &'m [Meter], options: &Options) -> Self {
        Self { meters, mis_probe: options.mis_probe.clamp(1e-6, 0.5) }
    }

    /// Standard deviation a meter adds at a reading, alone.
    pub fn sigma(&self, meter: usize, mode: MeasureMode, reading: f64) -> f64 {
        let accuracy = self.meters.get(meter).and_then(|meter| meter.accuracy(mode));
        accuracy.map_or(0.0, |accuracy| accuracy.sigma(reading))
    }

    /// Its two parts: a gain error, which all readings of a meter in a mode share, and the rest. A manual's percent of
    /// the reading is taken as gain (judgment); together they make the manual's bound.
    pub fn gain_and_rest(&self, meter: usize, mode: MeasureMode, reading: f64) -> (f64, f64) {
        self.grain_of(meter, mode).gain_and_rest(reading)
    }

    /// What a row's σ is made of.
    pub fn grain(&self, row: &Row) -> Grain {
        self.grain_of(row.meter, row.mode)
    }

    fn grain_of(&self, meter: usize, mode: MeasureMode) -> Grain {
        let accuracy = self.meters.get(meter).and_then(|meter| meter.accuracy(mode));
        Grain { accuracy, at_zero: self.sigma(meter, mode, 0.0) }
    }

    /// Density when anything may be shown.
    fn flat(&self, row: &Row, reading: f64) -> f64 {
        let meter = self.meters.get(row.meter).or(self.meters.first());
        match row.mode {
            MeasureMode::Ohms => {
                let from = FLAT_OHMS_FROM;
                let limit = meter.map_or(from, |meter| meter.ohms_limit);
                1.0 / (reading.abs().max(from) * (limit / from).ln().max(1.0))
            }
            MeasureMode::Amps | MeasureMode::AmpsClamp => 1.0 / FLAT_AMPS,
            MeasureMode::MillivoltsDc => 1.0 / meter.map_or(1.0, |meter| meter.millivolts_limit),
            MeasureMode::Duty => {
                (1.0 - AT_USUAL) / FLAT_DUTY + AT_USUAL * gauss(reading - row.rail, AROUND_USUAL)
            }
            MeasureMode::Hertz => 1.0 / FLAT_HERTZ,
            MeasureMode::VoltsAc => {
                (1.0 - AT_NOTHING) / FLAT_VOLTS_AC + AT_NOTHING * gauss(reading, AROUND_NOTHING)
            }
            _ => {
                let nothing = AT_NOTHING * gauss(reading, AROUND_NOTHING);
                let battery = AT_BATTERY * gauss(reading - row.rail, AROUND_BATTERY);
                (1.0 - AT_NOTHING - AT_BATTERY) / FLAT_VOLTS + nothing + battery
            }
        }
    }

    /// Density of a row that was mis-probed, times its chance.
    pub fn astray(&self, row: &Row) -> f64 {
        match row.value {
            ObservedValue::Number(reading) => self.mis_probe * self.flat(row, reading),
            _ => 0.0,
        }
    }

    /// A row under a prediction.
    pub fn term(&self, row: &Row, predicted: Predicted) -> Term {
        let chance = |probability: f64| Term::Chance(probability.ln());
        match (row.value, predicted) {
            (ObservedValue::Number(_), Predicted::Value { value, scatter, supply, spread }) => {
                self.grain(row).reading(row, value, scatter, supply, spread)
            }
            (ObservedValue::Number(_), Predicted::OverLimit) => chance(self.astray(row)),
            (ObservedValue::Number(reading), Predicted::Anything) => chance(self.flat(row, reading)),
            (ObservedValue::OverLimit, Predicted::OverLimit) => {
                chance(self.mis_probe.mul_add(FLAT_OVER_LIMIT, 1.0 - self.mis_probe))
            }
            (ObservedValue::OverLimit, Predicted::Value { .. }) => chance(self.mis_probe * FLAT_OVER_LIMIT),
            (ObservedValue::OverLimit, Predicted::Anything) => chance(FLAT_OVER_LIMIT),
            (ObservedValue::Yes, predicted) => chance(yes_chance(row, predicted)),
            (ObservedValue::No, predicted) => chance(1.0 - yes_chance(row, predicted)),
        }
    }

    /// Logarithm of the probability (density) of a row when the fault lies outside the circuit: as a healthy circuit
    /// would show it, or anything; at an earlier reading's points like that one.
    pub fn unmodeled(&self, row: &Row, healthy: Predicted) -> f64 {
        if let (ObservedValue::Number(reading), Some(earlier)) = (row.value, row.earlier) {
            let sigma = self.sigma(row.meter, row.mode, earlier) * (2.0 * row.placements).sqrt();
            return (1.0 - self.mis_probe).mul_add(gauss(reading - earlier, sigma), self.astray(row)).ln();
        }
        if matches!(row.value, ObservedValue::Yes | ObservedValue::No) {
            return answer_outside(row, healthy).ln();
        }
        let alone = |predicted: Predicted| match (row.value, self.term(row, predicted)) {
            (ObservedValue::Number(reading), Term::Reading { mean, sigma, sway }) => {
                let (_, swayed) = Belief::new().offset(&sway);
                let aimed = gauss(reading - mean, sigma.hypot(swayed.sqrt()));
                (1.0 - self.mis_probe).mul_add(aimed, self.astray(row))
            }
            (_, Term::Chance(log)) => log.exp(),
            _ => 0.0,
        };
        UNTOUCHED.mul_add(alone(healthy), (1.0 - UNTOUCHED) * alone(Predicted::Anything)).ln()
    }
}

/// How an observation agrees with a prediction, errors of hand aside.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Fit {
    /// It doesn't.
    No,
    /// The prediction allows anything (a chattering relay): no contradiction, but no support either.
    Anything,
    /// It does.
    Yes,
}

/// Does an answer, or an over-limit display, agree? Nothing for a reading against a value: that takes its σ.
pub(crate) fn plain_fit(row: &Row, predicted: Predicted) -> Option<Fit> {
    let fits = match (row.value, predicted) {
        (_, Predicted::Anything) => return Some(Fit::Anything),
        (ObservedValue::Number(_), Predicted::Value { .. }) => return None,
        (ObservedValue::OverLimit, Predicted::OverLimit) => true,
        (ObservedValue::Yes, Predicted::Value { value, .. }) => value > 0.5,
        (ObservedValue::No, Predicted::Value { value, .. }) => value < 0.5,
        _ => false,
    };
    Some(if fits { Fit::Yes } else { Fit::No })
}

fn yes_chance(row: &Row, predicted: Predicted) -> f64 {
    let [no, yes] = row.answered;
    let again = |no: u32, yes: u32| alike_or_each(row, predicted, [no, yes]);
    match predicted {
        Predicted::Value { .. } => again(no, yes + 1) / again(no, yes),
        _ => EITHER_WAY,
    }
}

/// Probability of an answer after the same question's earlier ones, when the fault lies outside the circuit: it leaves the
/// truth as it is for all of them, or makes it anything, as often yes as no.
fn answer_outside(row: &Row, healthy: Predicted) -> f64 {
    let [no, yes] = row.answered;
    let all = |answers: [u32; 2]| {
        let anything = alike_or_each(row, Predicted::Anything, answers);
        UNTOUCHED.mul_add(alike_or_each(row, healthy, answers), (1.0 - UNTOUCHED) * anything)
    };
    let after = if row.value == ObservedValue::Yes { [no, yes + 1] } else { [no + 1, yes] };
    all(after) / all([no, yes])
}

/// Share of wrong answers that are wrong whenever the same person asks the same thing: what was overlooked once is
/// overlooked again, what looks bad and isn't looks bad again (judgment).
const STANDING: f64 = 0.5;
/// Chance of "yes" where anything may be the truth.
const EITHER_WAY: f64 = 0.5;

/// Probability of so many answers, no and yes, to one question whose truth doesn't change: a mixture of answers that err each
/// for themselves and answers that err all alike, so that their order plays no part.
fn alike_or_each(row: &Row, predicted: Predicted, [no, yes]: [u32; 2]) -> f64 {
    let (error, wrong, right) = match predicted {
        Predicted::Value { value, .. } if value > 0.5 => (row.miss, no, yes),
        Predicted::Value { .. } => (row.false_alarm, yes, no),
        _ => (EITHER_WAY, no, yes),
    };
    let each = error.powi(exponent(wrong)) * (1.0 - error).powi(exponent(right));
    let alike = match (wrong, right) {
        (0, 0) => 1.0,
        (0, _) => 1.0 - error,
        (_, 0) => error,
        _ => 0.0,
    };
    STANDING.mul_add(alike, (1.0 - STANDING) * each)
}

fn exponent(count: u32) -> i32 {
    i32::try_from(count).unwrap_or(i32::MAX)
}
