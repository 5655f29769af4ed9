//! What looks like a cause of the circuit, and is none: a path between two wires, a load that isn't what it should be, a part
//! that is dead though its circuit is right.
//!
//! Some of these show the same in every test of the circuit, so that no reading can tell. How often that is, only closed
//! jobs tell; until there are any, a share stands for them, larger for what such a fault imitates most. It goes from every
//! cause to "not in this circuit" when the result is put together; it takes no part in weighing readings or in choosing
//! tests. A module's causes are spared once what hangs on its connector was measured without it, and its output past its
//! terminals: nothing else is left there.

use crate::answer::diagnosis::UNMODELED;
use crate::answer::options::Options;
use crate::choose::offer::{Candidate, Done};
use crate::file::fault::FaultMode;
use crate::file::module::{EvidenceCode, Module};
use crate::predict::model::Model;
use crate::predict::modules::module_of;

/// Largest share of a mode's causes that are none.
const MOST: f64 = 0.9;

/// How many times the usual share of a mode's causes are none (judgment: decision 48). A stray path imitates whatever bridges,
/// and shorts to ground or to the feed most of all: in a harness that is chafed or wet, the other wire may be any wire, and the
/// file names only these two. No path opens a circuit: only what hangs on it, dead though it is whole, imitates an open part.
const fn times(mode: FaultMode) -> f64 {
    use FaultMode as Mode;
    match mode {
        Mode::Open
        | Mode::StuckOpen
        | Mode::Dead
        | Mode::NotCommanded
        | Mode::Unresponsive
        | Mode::Jammed
        | Mode::LowDuty => 0.6,
        Mode::HighResistance | Mode::Weak | Mode::LowVoltage | Mode::Leaks => 1.0,
        Mode::ShortAcross | Mode::StuckClosed | Mode::AlwaysOn | Mode::DrawsTooMuch => 2.5,
        Mode::ShortToGround => 4.5,
        Mode::ShortToFeed => 6.0,
    }
}

/// The usual share, what closed jobs say, and the modules that are spared.
pub(crate) struct LookAlikes {
    usual: f64,
    weight: f64,
    closed: f64,
    outside: f64,
    spared: Vec<String>,
}

impl LookAlikes {
    /// The usual share weighs as much as the file's odds do; every closed job counts one more.
    pub fn of(model: &Model<'_>, tests: &[Candidate<'_>], done: &[Done<'_>], options: &Options) -> Self {
        let weight = options.odds_weigh_jobs.max(1.0);
        let closed: f64 = options.closed_jobs.values().copied().map(f64::from).sum();
        let outside = options.closed_jobs.get(UNMODELED).copied().map_or(0.0, f64::from);
        let usual = options.look_alikes.clamp(0.0, 0.5);
        let seen = |id: &String| {
            let column = tests.iter().find(|test| test.test.id == *id).and_then(|test| test.column);
            column.is_some_and(|column| done.iter().any(|done| model.same_reading(done.column, column)))
        };
        let alone = |module: &&Module| {
            let rest = |code| matches!(code, EvidenceCode::Harness | EvidenceCode::PastTerminal);
            let mut needs = module.evidence.iter().filter(|need| rest(need.code));
            needs.all(|need| need.tests.iter().any(seen)) && seen(&module.inspection)
        };
        let spared = model.circuit().modules.iter().filter(alone).map(|module| module.id.clone());
        Self { usual, weight, closed, outside, spared: spared.collect() }
    }

    fn share(&self, mode: FaultMode) -> f64 {
        if self.usual <= 0.0 {
            return 0.0;
        }
        let usual = (self.usual * times(mode)).min(MOST);
        usual.mul_add(self.weight, self.outside) / (self.weight + self.closed)
    }

    /// Takes the share from every cause that isn't spared, and returns how much that is.
    pub fn take_from(&self, model: &Model<'_>, shares: &mut [f64]) -> f64 {
        let mut taken = 0.0;
        for (cause, share) in shares.iter_mut().enumerate() {
            if module_of(model, cause).is_none_or(|module| !self.spared.contains(&module)) {
                let none = model.causes.get(cause).map_or(0.0, |cause| self.share(cause.spec.mode));
                taken += *share * none;
                *share *= 1.0 - none;
            }
        }
        taken
    }
}
