//! From volts to what is written down: the error of this very meter, its display's digits, leads that slip.

use circuit::{Accuracy, MeasureMode, Meter, ObservedValue};

use super::dice::Dice;
use super::measure::Instrument;

/// The meter in the technician's hand. Its errors stay the same all day.
#[derive(Debug, Clone)]
pub struct Gauge {
    /// What its manual says.
    pub manual: Meter,
    pub instrument: Instrument,
    /// Share of the manual's percent by which each mode is off, by place in `MODES`.
    gains: [f64; 6],
    /// Counts of its display: 2000, 4000, 6000.
    counts: f64,
    /// What a clamp shows with nothing in it, ampere, after the technician zeroed it.
    clamp_zero: f64,
}

const MODES: [MeasureMode; 6] = [
    MeasureMode::VoltsDc,
    MeasureMode::Ohms,
    MeasureMode::Amps,
    MeasureMode::MillivoltsDc,
    MeasureMode::AmpsClamp,
    MeasureMode::Duty,
];

impl Gauge {
    /// A shop's meter: mostly well within its manual, never far beyond.
    pub fn drawn(dice: &mut Dice) -> Self {
        let manual = Meter::default();
        let input = *dice.weighted(&[(6.0, 10e6), (3.0, 11e6), (1.0, 9.7e6)]).unwrap_or(&10e6);
        let low = manual.low_impedance_ohms.unwrap_or(3e3);
        let instrument = Instrument {
            volts_input_ohms: input * dice.between(0.99, 1.01),
            low_impedance_ohms: low * dice.between(0.92, 1.08),
            amps_ohms: manual.amps_input_ohms * dice.between(0.6, 1.6),
            lead_ohms: dice.between(0.08, 0.38),
        };
        let gains = std::array::from_fn(|_| (dice.normal() * 0.5).clamp(-1.0, 1.0));
        let counts = *dice.weighted(&[(2.0, 2000.0), (3.0, 4000.0), (5.0, 6000.0)]).unwrap_or(&6000.0);
        Self { manual, instrument, gains, counts, clamp_zero: dice.normal() * 0.08 }
    }

    /// What the display shows for a true value.
    pub fn shows(&self, mode: MeasureMode, value: ObservedValue, dice: &mut Dice) -> ObservedValue {
        let ObservedValue::Number(truth) = value else { return value };
        let accuracy = match mode {
            MeasureMode::VoltsDc | MeasureMode::VoltsLowImpedance => self.manual.volts_accuracy,
            MeasureMode::Ohms => self.manual.ohms_accuracy,
            MeasureMode::Amps => self.manual.amps_accuracy,
            MeasureMode::MillivoltsDc => self.manual.millivolts_accuracy,
            MeasureMode::AmpsClamp => self.manual.clamp_accuracy,
            MeasureMode::Duty => self.manual.duty_accuracy,
            MeasureMode::VoltsAc => self.manual.volts_ac_accuracy,
            MeasureMode::Hertz => self.manual.hertz_accuracy,
            MeasureMode::Continuity | MeasureMode::Look | MeasureMode::YesNo => return value,
        };
        let zero = if mode == MeasureMode::AmpsClamp { self.clamp_zero } else { 0.0 };
        let shown = self.with_error(mode, truth + zero, accuracy, dice);
        ObservedValue::Number(round(shown, self.digit(mode, shown, accuracy)))
    }

    fn with_error(&self, mode: MeasureMode, truth: f64, accuracy: Accuracy, dice: &mut Dice) -> f64 {
        let same = |one: &MeasureMode| *one == mode;
        let place = MODES.iter().position(same).unwrap_or(0);
        let gain = self.gains.get(place).copied().unwrap_or(0.0) * accuracy.percent / 100.0;
        // The last digits dance, and a vehicle is never quite still.
        let digit = self.digit(mode, truth, accuracy);
        let dance = (dice.normal() * 0.6).clamp(-1.5, 1.5) * accuracy.counts.min(3.0) * 0.5 * digit;
        let unrest = if mode == MeasureMode::VoltsDc { dice.normal() * 0.001 * truth } else { 0.0 };
        truth * (1.0 + gain) + dance + unrest
    }

    /// Size of the last digit in the range the meter picks.
    fn digit(&self, mode: MeasureMode, value: f64, accuracy: Accuracy) -> f64 {
        match mode {
            MeasureMode::VoltsDc | MeasureMode::VoltsLowImpedance => {
                if value.abs() * 1000.0 < self.counts {
                    0.001
                } else {
                    0.01
                }
            }
            MeasureMode::Ohms => {
                let mut digit = 0.1;
                while value.abs() / digit >= self.counts {
                    digit *= 10.0;
                }
                digit
            }
            _ => accuracy.count_size,
        }
    }
}

fn round(value: f64, digit: f64) -> f64 {
    let places = (1.0 / digit).round().max(1.0);
    let shown = if digit < 1.0 { (value * places).round() / places } else { (value / digit).round() * digit };
    // No minus before a zero.
    shown + 0.0
}
