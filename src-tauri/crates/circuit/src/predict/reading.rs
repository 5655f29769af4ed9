//! What a meter, or a question, would show in a settled circuit, and how far healthy parts scatter it.

use crate::file::component::{ComponentKind, Need};
use crate::file::fault::FaultMode;
use crate::file::meter::Meter;
use crate::file::observation::MeasureMode;
use crate::file::procedure::Behavior;
use crate::solve::part::{Failing, Own, Part, Position, SPREAD};
use crate::solve::settle::Settled;
use crate::solve::solved::Probe;
use crate::solve::wiring::{Setting, Wiring};

/// A circuit that still has more than this between the leads spoils an ohms reading (judgment).
const LIVE_VOLTS: f64 = 0.1;
/// How far a driver's off-state resistances lie around the file's value, ± percent (95 %; judgment: published ranges of
/// drivers' open-load currents span a factor of two to five).
const BIAS_TOLERANCE: f64 = 100.0;
/// Tolerances are 95 % bounds.
pub(super) const BOUND: f64 = 1.96;

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
    /// Value (V, ohm, A; yes = 1, no = 0); the scatter that healthy parts give it (one standard deviation); by how
    /// much it rises when the battery's volts lie one standard deviation higher, which all readings share; and when one
    /// of the loosest parts does, which all readings share too (those aren't in `scatter`).
    Value { value: f64, scatter: f64, supply: f64, spread: [f64; SPREAD] },
    /// Over-limit.
    OverLimit,
    /// Chattering, or an ohms reading in a live circuit: anything may be shown.
    Anything,
}

impl Predicted {
    /// A value that neither parts nor battery move.
    pub const fn plain(value: f64) -> Self {
        Self::Value { value, scatter: 0.0, supply: 0.0, spread: [0.0; SPREAD] }
    }
}

pub(crate) struct View<'v, 'a> {
    pub wiring: &'v Wiring<'a>,
    pub meter: &'v Meter,
    /// Highest value the display shows, where less than the meter can.
    pub range: Option<f64>,
    pub setting: &'v Setting,
    pub faults: &'v [Failing],
    pub settled: &'v Settled,
}

impl View<'_, '_> {
    pub fn predict(&self, measure: &Measure) -> Predicted {
        if !self.settled.steady {
            return Predicted::Anything;
        }
        match (self.shown(measure), self.range) {
            (Predicted::Value { value, .. }, Some(range)) if value.abs() > range => Predicted::OverLimit,
            (shown, _) => shown,
        }
    }

    /// On a display that reaches as far as the meter can.
    fn shown(&self, measure: &Measure) -> Predicted {
        match measure {
            Measure::Question(test) => {
                let question = self.wiring.circuit.tests.get(*test).and_then(|test| test.question.as_ref());
                let so = question.is_some_and(|question| self.happens(&question.behavior));
                Predicted::plain(f64::from(u8::from(so)))
            }
            Measure::Reading(MeasureMode::Ohms, red, black) => self.ohms(*red, *black),
            Measure::Reading(MeasureMode::AmpsClamp, red, black) => self.clamped(*red, *black),
            Measure::Reading(MeasureMode::Duty, red, black) => self.duty(*red, *black),
            Measure::Reading(MeasureMode::Continuity, red, black) => match self.ohms(*red, *black) {
                Predicted::Value { value, .. } => {
                    Predicted::plain(f64::from(u8::from(value <= self.meter.beep_ohms)))
                }
                Predicted::OverLimit => Predicted::plain(0.0),
                Predicted::Anything => Predicted::Anything,
            },
            Measure::Reading(MeasureMode::VoltsAc, red, black) => self.alternating(*red, *black),
            Measure::Reading(MeasureMode::Hertz, red, black) => self.hertz(*red, *black),
            Measure::Reading(MeasureMode::MillivoltsDc, red, black) => {
                match self.volts_or_amps(MeasureMode::VoltsDc, *red, *black) {
                    Predicted::Value { value, .. } if value.abs() > self.meter.millivolts_limit => {
                        Predicted::OverLimit
                    }
                    predicted => predicted,
                }
            }
            Measure::Reading(mode, red, black) => self.volts_or_amps(*mode, *red, *black),
        }
    }

    fn volts_or_amps(&self, mode: MeasureMode, red: usize, black: usize) -> Predicted {
        let solved = &self.settled.solved;
        let Some((open, probe)) = solved.between(red, black).zip(solved.probe(red, black)) else {
            return Predicted::plain(0.0);
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
        let (scatter, spread) =
            self.scatter(&probe, |open_change, inside_change| share * (open_change - loaded * inside_change));
        let supply = share * self.per_battery(&probe);
        Predicted::Value { value: open * share, scatter, supply, spread }
    }

    /// Current in the one part that joins the two points.
    fn clamped(&self, red: usize, black: usize) -> Predicted {
        let none = Predicted::plain(0.0);
        let here = |(i, part): &(usize, &Part<'_>)| part.joins(red, black) && self.is_present(*i);
        let Some((i, part)) = self.wiring.parts.iter().enumerate().find(here) else { return none };
        let own = Own { faults: self.faults, part: i };
        let line = part.line(own, self.position(i));
        let solved = &self.settled.solved;
        let carries = !own.has(FaultMode::Open) && self.carries(i);
        let Some((volts, probe)) =
            solved.between(red, black).zip(solved.probe(red, black)).filter(|_| carries)
        else {
            return none;
        };
        let forwards = if part.a == red { 1.0 } else { -1.0 };
        let (scatter, spread) = self.scatter(&probe, |open_change, _| open_change / line.ohms);
        let value = volts / line.ohms + forwards * line.amps;
        let supply = self.per_battery(&probe) / line.ohms;
        Predicted::Value { value, scatter, supply, spread }
    }

    /// Current in a part, first end to second.
    fn amps_in(&self, i: usize) -> Option<f64> {
        let part = self.wiring.parts.get(i).filter(|_| self.is_present(i) && self.carries(i))?;
        let own = Own { faults: self.faults, part: i };
        let volts = self.settled.solved.between(part.a, part.b).filter(|_| !own.has(FaultMode::Open))?;
        Some(part.line(own, self.position(i)).amps_at(volts))
    }

    /// Are switch, contact and fuse closed?
    pub(super) fn carries(&self, i: usize) -> bool {
        let own = Own { faults: self.faults, part: i };
        match self.wiring.parts.get(i).map(|part| (&part.component.kind, part.link)) {
            Some((ComponentKind::Switch { .. }, _)) => own.closed(self.setting.asked.get(i) == Some(&true)),
            Some((ComponentKind::Contact { closed_at_rest, .. }, coil)) => {
                own.closed(self.stands(coil, Position::Working) != *closed_at_rest)
            }
            _ => !self.stands(i, Position::Blown),
        }
    }

    pub(super) fn is_present(&self, i: usize) -> bool {
        self.setting.present.get(i) == Some(&true)
    }

    pub(super) fn position(&self, i: usize) -> Position {
        self.settled.positions.get(i).copied().unwrap_or(Position::Rest)
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
        let (scatter, spread) = self.scatter(&probe, |_, inside_change| inside_change);
        Predicted::Value { value, scatter, supply: 0.0, spread }
    }

    /// Standard deviation by all parts with a tolerance together, and by each of the loosest. By reciprocity one ampere
    /// between the leads gives all sensitivities: dV/dln R = V·W/R and dRth/dln R = W²/R, with V the part's volts and W
    /// its volts per ampere.
    fn scatter(&self, probe: &Probe, effect: impl Fn(f64, f64) -> f64) -> (f64, [f64; SPREAD]) {
        let (mut variance, mut spread) = (0.0, [0.0; SPREAD]);
        for (i, part) in self.wiring.parts.iter().enumerate().filter(|(i, _)| self.is_present(*i)) {
            let own = Own { faults: self.faults, part: i };
            let tolerance = part.component.tolerance_percent;
            if let Some(by) = self.biased(i, part, own, probe, &effect) {
                variance += by;
            }
            let swing = match part.component.kind {
                ComponentKind::RegulatedSupply { .. } => {
                    let (volts, ohms) = part.regulated(own);
                    self.stands(i, Position::Working).then_some(Swing { volts, ohms, share: 0.0, tolerance })
                }
                // A driver's tolerance is that of its on-resistance: at rest, and at its limit, that plays no part.
                ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. } => {
                    let on =
                        tolerance > 0.0 && self.stands(i, Position::Working) && !self.pulses(i, part, own);
                    on.then(|| self.driver_swing(part, own))
                }
                _ => {
                    let plain = tolerance > 0.0 && self.is_plain(i, part, own);
                    let moves = plain && !own.has(FaultMode::Open) && self.carries(i);
                    moves.then(|| self.swing(i, part, own))
                }
            };
            let by = swing.map_or(0.0, |swing| swing.moves(probe, part.a, part.b, &effect));
            match part.spread.and_then(|place| spread.get_mut(place)) {
                Some(entry) => *entry += by,
                None => variance += by * by,
            }
        }
        for added in self.setting.added.iter().filter(|added| added.tolerance_percent > 0.0) {
            let volts = self.settled.solved.between(added.a, added.b).unwrap_or(0.0);
            let swing = Swing { volts, ohms: added.ohms, share: 1.0, tolerance: added.tolerance_percent };
            variance += swing.moves(probe, added.a, added.b, &effect).powi(2);
        }
        (variance.sqrt(), spread)
    }

    /// Variance that the off-state resistances of a driver give: makers publish them as ranges, and some don't at all.
    fn biased(
        &self,
        i: usize,
        part: &Part<'_>,
        own: Own<'_>,
        probe: &Probe,
        effect: &impl Fn(f64, f64) -> f64,
    ) -> Option<f64> {
        let (ComponentKind::HighSideDriver { off_pull_up_ohms, off_pull_down_ohms, .. }
        | ComponentKind::LowSideDriver { off_pull_up_ohms, off_pull_down_ohms, .. }) = &part.component.kind
        else {
            return None;
        };
        let gone = own.has(FaultMode::Dead) || own.has(FaultMode::Leaks);
        if gone || !self.stands(i, Position::Rest) {
            return None;
        }
        let (_, _, supply, output, ground) = part.driver_nodes();
        let pulls = [(supply, output, off_pull_up_ohms), (output, ground, off_pull_down_ohms)];
        let by = |(a, b, ohms): (usize, usize, f64)| {
            let volts = self.settled.solved.between(a, b).unwrap_or(0.0);
            let swing = Swing { volts, ohms, share: 1.0, tolerance: BIAS_TOLERANCE };
            swing.moves(probe, a, b, effect).powi(2)
        };
        Some(pulls.into_iter().filter_map(|(a, b, ohms)| Some(by((a, b, (*ohms)?)))).sum())
    }

    /// Neither battery nor a drive that pulses.
    fn is_plain(&self, i: usize, part: &Part<'_>, own: Own<'_>) -> bool {
        let battery = matches!(part.component.kind, ComponentKind::Battery { .. });
        !battery && !self.pulses(i, part, own)
    }

    fn pulses(&self, i: usize, part: &Part<'_>, own: Own<'_>) -> bool {
        self.is_on(i) && part.pulses(own, self.setting.moment).is_some()
    }

    pub(super) fn is_on(&self, i: usize) -> bool {
        self.stands(i, Position::Working) || self.stands(i, Position::Freewheeling)
    }

    /// Rise between the leads when the first battery's volts lie one standard deviation higher: by reciprocity the
    /// current that one ampere between the leads sends through it. A battery that failed has volts of its own.
    fn per_battery(&self, probe: &Probe) -> f64 {
        let mut branches = 0;
        for (i, part) in self.wiring.parts.iter().enumerate().filter(|(i, _)| self.is_present(*i)) {
            let own = Own { faults: self.faults, part: i };
            if let ComponentKind::Battery { volts_spread, .. } = part.component.kind {
                let failed = own.has(FaultMode::LowVoltage);
                return if failed { 0.0 } else { probe.source_amps(branches) * volts_spread };
            }
            branches += usize::from(self.pulses(i, part, own));
        }
        0.0
    }

    fn swing(&self, i: usize, part: &Part<'_>, own: Own<'_>) -> Swing {
        let line = part.line(own, self.position(i));
        let across = self.settled.solved.between(part.a, part.b).unwrap_or(0.0);
        let added = own.added_ohms();
        Swing {
            volts: across - line.amps_at(across) * added,
            ohms: line.ohms,
            share: 1.0 - added / line.ohms,
            tolerance: part.component.tolerance_percent,
        }
    }

    fn driver_swing(&self, part: &Part<'_>, own: Own<'_>) -> Swing {
        let ohms = part.driver_ohms() + own.added_ohms();
        let share = part.driver_ohms() / ohms;
        let volts = self.settled.solved.between(part.a, part.b).unwrap_or(0.0) * share;
        Swing { volts, ohms, share, tolerance: part.component.tolerance_percent }
    }

    fn happens(&self, happening: &Behavior) -> bool {
        let number = |id: &str| self.wiring.parts.iter().position(|part| part.component.id == id);
        match happening {
            Behavior::CoilPullsIn { coil } => number(coil).is_some_and(|i| self.stands(i, Position::Working)),
            Behavior::PartWorks { component, at_least_volts } => {
                number(component).is_some_and(|i| self.works(i, *at_least_volts))
            }
            Behavior::ModuleSees { needs } => needs.iter().all(|need| self.sees(need)),
            Behavior::AlternatingSeen { needs, red, black, at_least_volts } => {
                let nodes = self.wiring.point(red).ok().zip(self.wiring.point(black).ok());
                let counted = nodes.is_some_and(|(red, black)| self.volts_ac(red, black) >= *at_least_volts);
                counted && needs.iter().all(|need| self.sees(need))
            }
            Behavior::CarriesMoreThan { component, amps } => {
                number(component).and_then(|i| self.amps_in(i)).is_some_and(|flowing| flowing.abs() > *amps)
            }
            Behavior::ConditionsMet { component } => number(component)
                .is_none_or(|i| !Own { faults: self.faults, part: i }.has(FaultMode::NotCommanded)),
            Behavior::DamageSeen { components } => components
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
        let present = self.is_present(i);
        let volts = self.swing(i, part, own).volts.abs();
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

/// A part's own volts (without a fault's resistance in series), its ohms in all, the share that is its own, and its
/// tolerance, percent.
#[derive(Debug, Clone, Copy)]
struct Swing {
    volts: f64,
    ohms: f64,
    share: f64,
    tolerance: f64,
}

impl Swing {
    /// By how much a reading moves when the part lies one standard deviation above its value.
    fn moves(self, probe: &Probe, a: usize, b: usize, effect: &impl Fn(f64, f64) -> f64) -> f64 {
        let per_amp = probe.between(a, b);
        let change = effect(self.volts * per_amp / self.ohms, per_amp * per_amp / self.ohms * self.share);
        change * self.tolerance / 100.0 / BOUND
    }
}
