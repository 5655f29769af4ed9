//! How probable an observation is under a prediction.
//!
//! Readings: (1 − ε)·N(observed; predicted, σ) + ε·flat, with ε the chance of a mis-probe. Answers: their own
//! error rates. The flat density also stands for "something this circuit doesn't contain".

use std::f64::consts::PI;

use crate::diagnosis::Options;
use crate::meter::Meter;
use crate::observation::{MeasureMode, ObservedValue, Present};
use crate::reading::Predicted;

/// Readings farther off than this many standard deviations don't fit.
const FITS_WITHIN: f64 = 3.0;
/// Width of the flat density of volts: from reverse polarity to a charging battery (judgement).
const FLAT_VOLTS: f64 = 15.0;
/// Width of the flat density of amperes (judgement).
const FLAT_AMPS: f64 = 30.0;
/// Width of the flat density of duty, percent.
const FLAT_DUTY: f64 = 100.0;
/// Share of over-limit displays when anything may be shown (judgement).
const FLAT_OVER_LIMIT: f64 = 0.25;
/// Lowest resistance a meter tells from zero, ohm (common practice).
const FLAT_OHMS_FROM: f64 = 0.1;

/// One observation, ready to be weighed.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    /// Place in the caller's list; none for the complaint itself.
    pub observation: Option<usize>,
    pub column: usize,
    pub mode: MeasureMode,
    pub value: ObservedValue,
    pub complaint: Present,
    /// Number of placements of this reading: a gain error is common to all of them, so σ grows with its root.
    pub placements: f64,
    pub miss: f64,
    pub false_alarm: f64,
    /// Reading at an earlier placement, for the cause that predicts nothing itself.
    pub earlier: Option<f64>,
}

/// Meter and chances that weigh a row.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Scale<'m> {
    pub meter: &'m Meter,
    pub mis_probe: f64,
}

impl<'m> Scale<'m> {
    pub fn new(meter: &'m Meter, options: &Options) -> Self {
        Self { meter, mis_probe: options.mis_probe.clamp(1e-6, 0.5) }
    }

    /// Standard deviation the meter adds at a reading.
    pub fn sigma(&self, mode: MeasureMode, reading: f64) -> f64 {
        self.meter.accuracy(mode).map_or(0.0, |accuracy| accuracy.sigma(reading))
    }

    fn flat(&self, mode: MeasureMode, reading: f64) -> f64 {
        match mode {
            MeasureMode::Ohms => {
                let from = FLAT_OHMS_FROM;
                1.0 / (reading.abs().max(from) * (self.meter.ohms_limit / from).ln().max(1.0))
            }
            MeasureMode::Amps | MeasureMode::AmpsClamp => 1.0 / FLAT_AMPS,
            MeasureMode::MillivoltsDc => 1.0 / self.meter.millivolts_limit,
            MeasureMode::Duty => 1.0 / FLAT_DUTY,
            _ => 1.0 / FLAT_VOLTS,
        }
    }

    /// Probability (density) of a row under a prediction.
    pub fn likelihood(&self, row: &Row, predicted: Predicted) -> f64 {
        match (row.value, predicted) {
            (ObservedValue::Number(reading), Predicted::Value { value, scatter }) => {
                let sigma = self.sigma(row.mode, value).hypot(scatter) * row.placements.sqrt();
                let aimed = gauss(reading - value, sigma);
                (1.0 - self.mis_probe).mul_add(aimed, self.mis_probe * self.flat(row.mode, reading))
            }
            (ObservedValue::Number(reading), Predicted::OverLimit) => {
                self.mis_probe * self.flat(row.mode, reading)
            }
            (ObservedValue::Number(reading), Predicted::Anything) => self.flat(row.mode, reading),
            (ObservedValue::OverLimit, Predicted::OverLimit) => {
                self.mis_probe.mul_add(FLAT_OVER_LIMIT, 1.0 - self.mis_probe)
            }
            (ObservedValue::OverLimit, Predicted::Value { .. }) => self.mis_probe * FLAT_OVER_LIMIT,
            (ObservedValue::OverLimit, Predicted::Anything) => FLAT_OVER_LIMIT,
            (ObservedValue::Yes, predicted) => yes_chance(row, predicted),
            (ObservedValue::No, predicted) => 1.0 - yes_chance(row, predicted),
        }
    }

    /// Probability (density) of a row when the fault lies outside the circuit: flat the first time, then like the
    /// earlier reading at the same points.
    pub fn unmodelled(&self, row: &Row) -> f64 {
        match (row.value, row.earlier) {
            (ObservedValue::Number(reading), Some(earlier)) => {
                let sigma = self.sigma(row.mode, earlier) * (2.0 * row.placements).sqrt();
                let flat = self.mis_probe * self.flat(row.mode, reading);
                (1.0 - self.mis_probe).mul_add(gauss(reading - earlier, sigma), flat)
            }
            _ => self.likelihood(row, Predicted::Anything),
        }
    }

    /// Does the row agree with the prediction, errors of hand aside?
    pub fn fits(&self, row: &Row, predicted: Predicted) -> Fit {
        let fits = match (row.value, predicted) {
            (_, Predicted::Anything) => return Fit::Anything,
            (ObservedValue::OverLimit, Predicted::OverLimit) => true,
            (ObservedValue::Number(reading), Predicted::Value { value, scatter }) => {
                (reading - value).abs() <= FITS_WITHIN * self.sigma(row.mode, value).hypot(scatter)
            }
            (ObservedValue::Yes, Predicted::Value { value, .. }) => value > 0.5,
            (ObservedValue::No, Predicted::Value { value, .. }) => value < 0.5,
            _ => false,
        };
        if fits { Fit::Yes } else { Fit::No }
    }
}

/// How an observation agrees with a prediction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Fit {
    /// It doesn't.
    No,
    /// The prediction allows anything (a chattering relay): no contradiction, but no support either.
    Anything,
    /// It does.
    Yes,
}

fn yes_chance(row: &Row, predicted: Predicted) -> f64 {
    match predicted {
        Predicted::Value { value, .. } if value > 0.5 => 1.0 - row.miss,
        Predicted::Value { .. } => row.false_alarm,
        _ => 0.5,
    }
}

fn gauss(distance: f64, sigma: f64) -> f64 {
    // Beyond 12 σ the density is below 1e-31 and drowns in the mis-probe term.
    if distance.abs() > 12.0 * sigma {
        return 0.0;
    }
    (-0.5 * (distance / sigma).powi(2)).exp() / (sigma * (2.0 * PI).sqrt())
}
