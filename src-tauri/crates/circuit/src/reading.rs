//! What a meter, or a question, would show in a settled circuit, and how far healthy parts scatter it.

use crate::component::{ComponentKind, Need};
use crate::fault::FaultMode;
use crate::meter::Meter;
use crate::netlist::Probe;
use crate::observation::MeasureMode;
use crate::procedure::Happening;
use crate::settle::Settled;
use crate::wiring::{Failing, Own, Position, Setting, Wiring};

/// A circuit that still has more than this between the leads spoils an ohms reading (judgement).
const LIVE_VOLTS: f64 = 0.1;
/// Tolerances are 95 % bounds.
const BOUND: f64 = 1.96;

/// What is looked at.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Measure {
    /// Mode, red node, black node.
    Reading(MeasureMode, usize, usize),
    /// Test number.
    Question(usize),
}

/// What would be shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Predicted {
    /// Value (V, ohm, A; yes = 1, no = 0) and the scatter that healthy parts give it (one standard deviation).
    Value { value: f64, scatter: f64 },
    /// Over-limit.
    OverLimit,
    /// Chattering, or an ohms reading in a live circuit: anything may be shown.
    Anything,
}

/// Battery volts as known so far: one standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Scatter {
    pub battery_sigma: f64,
}

pub(crate) struct View<'v, 'a> {
    pub wiring: &'v Wiring<'a>,
    pub meter: &'v Meter,
    pub setting: &'v Setting,
    pub faults: &'v [Failing],
    pub settled: &'v Settled,
    pub scatter: Scatter,
}

impl View<'_, '_> {
    pub fn predict(&self, measure: &Measure) -> Predicted {
        if !self.settled.steady {
            return Predicted::Anything;
        }
        match measure {
            Measure::Question(test) => {
                let question = self.wiring.circuit.tests.get(*test).and_then(|test| test.question.as_ref());
                let so = question.is_some_and(|question| self.happens(&question.happening));
                Predicted::Value { value: f64::from(u8::from(so)), scatter: 0.0 }
            }
            Measure::Reading(MeasureMode::Ohms, red, black) => self.ohms(*red, *black),
            Measure::Reading(mode, red, black) => self.volts_or_amps(*mode, *red, *black),
        }
    }

    fn volts_or_amps(&self, mode: MeasureMode, red: usize, black: usize) -> Predicted {
        let solved = &self.settled.solved;
        let Some((open, probe)) = solved.between(red, black).zip(solved.probe(red, black)) else {
            return Predicted::Value { value: 0.0, scatter: 0.0 };
        };
        // The low-impedance and ampere inputs are already in the netlist; the volts input is put across here.
        let (share, source) = match mode {
            MeasureMode::VoltsDc => {
                let inside = probe.between(red, black);
                (self.meter.volts_input_ohms / (self.meter.volts_input_ohms + inside), inside)
            }
            MeasureMode::Amps => (1.0 / self.meter.amps_input_ohms, 0.0),
            _ => (1.0, 0.0),
        };
        let loaded = if source > 0.0 { open / (self.meter.volts_input_ohms + source) } else { 0.0 };
        let variance = self
            .variance(&probe, |open_change, inside_change| share * (open_change - loaded * inside_change));
        Predicted::Value { value: open * share, scatter: variance.sqrt() }
    }

    fn ohms(&self, red: usize, black: usize) -> Predicted {
        let solved = &self.settled.solved;
        let Some((open, probe)) = solved.between(red, black).zip(solved.probe(red, black)) else {
            return Predicted::OverLimit;
        };
        if open.abs() > LIVE_VOLTS {
            return Predicted::Anything;
        }
        let value = probe.between(red, black) + self.meter.lead_ohms;
        if value > self.meter.ohms_limit {
            return Predicted::OverLimit;
        }
        let variance = self.variance(&probe, |_, inside_change| inside_change);
        Predicted::Value { value, scatter: variance.sqrt() }
    }

    /// Sum of squares over every part with a tolerance. By reciprocity one ampere between the leads gives all
    /// sensitivities: dV/dln R = V·W/R and dRth/dln R = W²/R, with V the part's volts and W its volts per ampere.
    fn variance(&self, probe: &Probe, effect: impl Fn(f64, f64) -> f64) -> f64 {
        let mut sum = 0.0;
        let mut sources = 0;
        for (i, part) in self.wiring.parts.iter().enumerate() {
            if self.setting.present.get(i) != Some(&true) {
                continue;
            }
            let own = Own { faults: self.faults, part: i };
            if let ComponentKind::Battery { .. } = part.component.kind {
                if !own.has(FaultMode::LowVoltage) {
                    let per_volt = probe.source_amps(sources);
                    sum += (effect(per_volt, 0.0) * self.scatter.battery_sigma).powi(2);
                }
                sources += 1;
            } else if part.component.tolerance_percent > 0.0 && !own.has(FaultMode::Open) {
                let ohms = own.scaled(part.ohms);
                let share = ohms / (ohms + own.added_ohms());
                let tolerance = part.component.tolerance_percent;
                sum += self.one(probe, part.a, part.b, ohms + own.added_ohms(), share, tolerance, &effect);
            }
        }
        for added in &self.setting.added {
            if added.tolerance_percent > 0.0 {
                sum += self.one(probe, added.a, added.b, added.ohms, 1.0, added.tolerance_percent, &effect);
            }
        }
        sum
    }

    #[allow(clippy::too_many_arguments, reason = "one term of the sum above, with its six numbers")]
    fn one(
        &self,
        probe: &Probe,
        a: usize,
        b: usize,
        ohms: f64,
        share: f64,
        tolerance_percent: f64,
        effect: &impl Fn(f64, f64) -> f64,
    ) -> f64 {
        let volts = self.settled.solved.between(a, b).unwrap_or(0.0);
        let per_amp = probe.between(a, b);
        let sigma = tolerance_percent / 100.0 / BOUND * share;
        (effect(volts * per_amp / ohms, per_amp * per_amp / ohms) * sigma).powi(2)
    }

    fn happens(&self, happening: &Happening) -> bool {
        let number = |id: &str| self.wiring.parts.iter().position(|part| part.component.id == id);
        match happening {
            Happening::CoilPullsIn { coil } => {
                number(coil).is_some_and(|i| self.stands(i, Position::Working))
            }
            Happening::PartWorks { component, at_least_volts } => {
                number(component).is_some_and(|i| self.works(i, *at_least_volts))
            }
            Happening::ModuleSees { needs } => needs.iter().all(|need| self.sees(need)),
            Happening::DamageSeen { components } => components
                .iter()
                .filter_map(|id| number(id))
                .any(|i| self.faults.iter().any(|fault| fault.part == i) || self.stands(i, Position::Blown)),
        }
    }

    fn stands(&self, part: usize, position: Position) -> bool {
        self.settled.positions.get(part) == Some(&position)
    }

    fn works(&self, i: usize, at_least: f64) -> bool {
        let own = Own { faults: self.faults, part: i };
        let Some(part) = self.wiring.parts.get(i) else { return false };
        let present = self.setting.present.get(i) == Some(&true);
        let ohms = own.scaled(part.ohms);
        let share = ohms / (ohms + own.added_ohms());
        let volts = self.settled.solved.between(part.a, part.b).unwrap_or(0.0).abs() * share;
        present && volts >= at_least && !own.has(FaultMode::Open) && !own.has(FaultMode::Jammed)
    }

    fn sees(&self, need: &Need) -> bool {
        let nodes = self.wiring.point(&need.red).ok().zip(self.wiring.point(&need.black).ok());
        let volts = nodes.and_then(|(red, black)| self.settled.solved.between(red, black));
        volts.is_some_and(|volts| {
            need.at_least.is_none_or(|least| volts >= least) && need.at_most.is_none_or(|most| volts <= most)
        })
    }
}
