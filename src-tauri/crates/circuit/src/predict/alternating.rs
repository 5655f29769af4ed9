//! AC volts of a pick-up beside a toothed wheel, and their frequency.
//!
//! At the few tens of hertz of a wheel that a hand turns, a winding of a henry still has less reactance than resistance, and
//! the wires have none: the circuit is taken as resistive (judgment). Batteries and supplies give no AC and are their
//! resistance. So one ampere sent between the leads tells all: by reciprocity the volts that a source in series with a
//! winding puts between the leads are its own times the amperes that the ampere drives through the winding (C. A. Desoer,
//! E. S. Kuh, Basic Circuit Theory, chapter 16).

use crate::file::component::ComponentKind;
use crate::file::fault::FaultMode;
use crate::predict::reading::{BOUND, Predicted, View};
use crate::solve::part::{Own, Part, SPREAD};

/// A display needs so many AC volts to count their frequency (judgment; meters differ).
const COUNTS_FROM: f64 = 0.05;

/// What a turned pick-up puts between two points.
#[derive(Debug, Clone, Copy, Default)]
struct Alternating {
    volts: f64,
    /// One standard deviation, by how evenly the wheel is turned.
    scatter: f64,
    hertz: f64,
    /// Standard deviation of the frequency.
    hertz_scatter: f64,
}

impl View<'_, '_> {
    /// AC volts between two points.
    pub(super) fn alternating(&self, red: usize, black: usize) -> Predicted {
        let seen = self.turned(red, black);
        Predicted::Value { value: seen.volts, scatter: seen.scatter, supply: 0.0, spread: [0.0; SPREAD] }
    }

    /// Frequency of those.
    pub(super) fn hertz(&self, red: usize, black: usize) -> Predicted {
        let seen = self.turned(red, black);
        if seen.volts < COUNTS_FROM {
            return Predicted::OverLimit;
        }
        let (value, scatter) = (seen.hertz, seen.hertz_scatter);
        Predicted::Value { value, scatter, supply: 0.0, spread: [0.0; SPREAD] }
    }

    pub(super) fn volts_ac(&self, red: usize, black: usize) -> f64 {
        self.turned(red, black).volts
    }

    /// Of several that are turned at once, the strongest at these points counts: their phases are nobody's to know.
    fn turned(&self, red: usize, black: usize) -> Alternating {
        let Some(probe) = self.settled.solved.probe(red, black) else { return Alternating::default() };
        let input = self.meter.volts_input_ohms;
        let share = input / (input + probe.between(red, black));
        let of = |(i, part): (usize, &Part<'_>)| {
            let ComponentKind::PickUp { volts_ac, volts_ac_percent, hertz, .. } = part.component.kind else {
                return None;
            };
            let own = Own { faults: self.faults, part: i };
            let turns = self.setting.asked.get(i) == Some(&true) && self.is_present(i);
            if !turns || own.has(FaultMode::Open) {
                return None;
            }
            let source = own.severity(FaultMode::LowVoltage).unwrap_or(volts_ac);
            let amps = probe.between(part.a, part.b) / part.line(own, self.position(i)).ohms;
            let (volts, off) = ((source * amps).abs() * share, volts_ac_percent / 100.0 / BOUND);
            Some(Alternating { volts, scatter: volts * off, hertz, hertz_scatter: hertz * off })
        };
        let all = self.wiring.parts.iter().enumerate().filter_map(of);
        all.max_by(|left, right| left.volts.total_cmp(&right.volts)).unwrap_or_default()
    }
}
