//! Which way everything that switches stands at one moment, and how it goes on from there.

use std::collections::BTreeSet;

use circuit::{ComponentKind, Need, State};

use super::deck::Solution;
use super::specimen::{Part, Vehicle, holds, holds_for_once};

/// How one part stands. What it means depends on the part: a coil pulled in, a driver or supply on, a motor that turns, a
/// draw that gets all its current; everything else stays active.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    Rest,
    Active,
    /// A driver or supply that gives no more than its limit; nothing, if it protects itself by switching off.
    Limiting,
}

impl Stage {
    /// Does a driver conduct?
    pub fn conducts(self, part: &Part) -> bool {
        self == Self::Active || (self == Self::Limiting && !part.harm.latches)
    }
}

/// What decides beside the volts.
pub struct Setting<'a> {
    pub vehicle: &'a Vehicle,
    /// With defaults filled in.
    pub state: &'a State,
    /// Fuses that have no connection in this state, by part number.
    pub blown: &'a BTreeSet<usize>,
}

impl Setting<'_> {
    pub fn is_present(&self, part: &Part) -> bool {
        holds(&part.when, self.state)
    }

    fn is_forced(&self, part: &Part) -> bool {
        match &part.kind {
            ComponentKind::HighSideDriver { forced_when, .. }
            | ComponentKind::LowSideDriver { forced_when, .. } => holds_for_once(forced_when, self.state),
            _ => false,
        }
    }

    /// Would a driver be switched on if its module saw all that it needs?
    fn is_asked(&self, part: &Part) -> bool {
        let (ComponentKind::HighSideDriver { on_when, .. } | ComponentKind::LowSideDriver { on_when, .. }) =
            &part.kind
        else {
            return false;
        };
        let harm = &part.harm;
        let able = !harm.dead && !harm.unresponsive && harm.leak_ohms.is_none();
        able && (self.is_forced(part) || (holds(on_when, self.state) && !harm.not_commanded))
    }

    fn is_driven(&self, part: &Part, solution: &Solution) -> bool {
        let harm = &part.harm;
        match &part.kind {
            ComponentKind::HighSideDriver { supply, needs, duty, .. }
            | ComponentKind::LowSideDriver { supply, needs, duty, .. } => {
                let forced = self.is_forced(part);
                // A scan tool asks nothing of the inputs; a module without its supply doesn't hear it.
                let counts = |need: &&Need| !forced || need.red == *supply;
                let counted: Vec<Need> = needs.iter().filter(counts).cloned().collect();
                let sees =
                    if duty.is_some() { are_kept(&counted, solution) } else { are_met(&counted, solution) };
                harm.always_on || (self.is_asked(part) && sees)
            }
            ComponentKind::RegulatedSupply { needs, .. } => !harm.dead && are_met(needs, solution),
            _ => true,
        }
    }
}

/// Does a module that pulses get what it needs, all the time? One that loses its supply at each pulse resets.
fn are_kept(needs: &[Need], solution: &Solution) -> bool {
    needs.iter().all(|need| {
        let (low, high) = solution.extremes(&need.red, &need.black);
        need.at_least.is_none_or(|least| low >= least) && need.at_most.is_none_or(|most| high <= most)
    })
}

/// Does a module see this, on the average?
pub fn are_met(needs: &[Need], solution: &Solution) -> bool {
    needs.iter().all(|need| {
        let volts = solution.between(&need.red, &need.black);
        need.at_least.is_none_or(|least| volts >= least) && need.at_most.is_none_or(|most| volts <= most)
    })
}

/// All asked for and nothing pulled in yet: the moment the switch is thrown.
pub fn beginning(setting: &Setting) -> Vec<Stage> {
    let stage = |part: &Part| {
        let asked = match &part.kind {
            ComponentKind::Coil { .. } => false,
            // One that pulses waits until its module has been seen to live: copies of a dead one have no operating point.
            ComponentKind::HighSideDriver { duty: Some(_), .. }
            | ComponentKind::LowSideDriver { duty: Some(_), .. } => part.harm.always_on,
            ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. } => {
                part.harm.always_on || setting.is_asked(part)
            }
            ComponentKind::RegulatedSupply { .. } => !part.harm.dead,
            ComponentKind::Motor { .. } => !part.harm.jammed,
            _ => true,
        };
        let present = setting.is_present(part);
        if asked && present { Stage::Active } else { Stage::Rest }
    };
    setting.vehicle.parts.iter().map(stage).collect()
}

/// Where each part goes from its stage with these volts.
pub fn next(setting: &Setting, stages: &[Stage], solution: &Solution) -> Vec<Stage> {
    let parts = setting.vehicle.parts.iter().zip(stages).enumerate();
    parts.map(|(index, (part, stage))| step(setting, index, part, *stage, solution)).collect()
}

fn step(setting: &Setting, index: usize, part: &Part, stage: Stage, solution: &Solution) -> Stage {
    let if_active = |yes: bool| if yes { Stage::Active } else { Stage::Rest };
    if !setting.is_present(part) {
        return Stage::Rest;
    }
    let was_active = stage == Stage::Active;
    match &part.kind {
        ComponentKind::Coil { pull_in_volts, drop_out_volts, .. } => {
            let needed = if was_active { *drop_out_volts } else { *pull_in_volts };
            if_active(!part.harm.jammed && solution.across(index).abs() >= needed)
        }
        // A motor breaks away at a tenth or so of its volts.
        ComponentKind::Motor { .. } => {
            let needed = if was_active { 1.0 } else { 1.6 };
            if_active(!part.harm.jammed && solution.across(index).abs() >= needed)
        }
        ComponentKind::CurrentDraw { least_volts, .. } => {
            let needed = if was_active { *least_volts } else { *least_volts * 1.02 };
            if_active(solution.across(index) >= needed)
        }
        ComponentKind::HighSideDriver { on_ohms, limit_amps, .. }
        | ComponentKind::LowSideDriver { on_ohms, limit_amps, .. } => {
            if !setting.is_driven(part, solution) {
                return Stage::Rest;
            }
            if part.harm.latches && stage == Stage::Limiting {
                return stage;
            }
            let could = solution.across_while_on(index) / (on_ohms + part.harm.weak_ohms);
            limited(stage, could, *limit_amps)
        }
        ComponentKind::RegulatedSupply { output, ground, volts, ohms, limit_amps, .. } => {
            if !setting.is_driven(part, solution) {
                return Stage::Rest;
            }
            let short_of = part.harm.volts.unwrap_or(*volts) - solution.between(output, ground);
            // It can only push: held up by something else, it lets go.
            match stage {
                Stage::Rest => if_active(short_of > 1e-3),
                Stage::Active if short_of < -1e-4 => Stage::Rest,
                _ => limited(stage, short_of / (ohms + part.harm.weak_ohms), *limit_amps),
            }
        }
        ComponentKind::Battery { .. }
        | ComponentKind::Fuse { .. }
        | ComponentKind::Wire { .. }
        | ComponentKind::Connection { .. }
        | ComponentKind::Switch { .. }
        | ComponentKind::Contact { .. }
        | ComponentKind::Lamp { .. }
        | ComponentKind::Diode { .. }
        | ComponentKind::Thermistor { .. }
        | ComponentKind::PickUp { .. }
        | ComponentKind::Resistor { .. }
        | ComponentKind::SupplyLoad { .. } => Stage::Active,
    }
}

/// `could`: the current its own resistance would let through.
fn limited(stage: Stage, could: f64, limit: f64) -> Stage {
    let margin = if stage == Stage::Limiting { 0.999 } else { 1.001 };
    if could > limit * margin { Stage::Limiting } else { Stage::Active }
}
