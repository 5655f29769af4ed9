//! What looks like a cause of the circuit, and is none: a path between two wires, a load that isn't what it should be, a part
//! that is dead though its circuit is right.
//!
//! Some of these show the same in every test of the circuit, so that no reading can tell. How often that is, only closed
//! jobs tell; until there are any, a share stands for them. It goes from every cause to "not in this circuit" when the
//! result is put together; it takes no part in weighing readings or in choosing tests. A module's causes are spared once
//! what hangs on its connector was measured without it, and its output past its terminals: nothing else is left there.

use crate::answer::diagnosis::UNMODELED;
use crate::answer::options::Options;
use crate::choose::offer::{Candidate, Done};
use crate::file::module::{EvidenceCode, Module};
use crate::predict::model::Model;
use crate::predict::modules::module_of;

/// The share, and the modules it spares.
pub(crate) struct LookAlikes {
    share: f64,
    spared: Vec<String>,
}

impl LookAlikes {
    /// The usual share weighs as much as the file's odds do; every closed job counts one more.
    pub fn of(model: &Model<'_>, tests: &[Candidate<'_>], done: &[Done<'_>], options: &Options) -> Self {
        let weight = options.odds_weigh_jobs.max(1.0);
        let closed: f64 = options.closed_jobs.values().copied().map(f64::from).sum();
        let outside = options.closed_jobs.get(UNMODELED).copied().map_or(0.0, f64::from);
        let usual = options.look_alikes.clamp(0.0, 0.5);
        let share = if usual > 0.0 { usual.mul_add(weight, outside) / (weight + closed) } else { 0.0 };
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
        Self { share, spared: spared.collect() }
    }

    /// Takes the share from every cause that isn't spared, and returns how much that is.
    pub fn take_from(&self, model: &Model<'_>, shares: &mut [f64]) -> f64 {
        let mut taken = 0.0;
        for (cause, share) in shares.iter_mut().enumerate() {
            if module_of(model, cause).is_none_or(|module| !self.spared.contains(&module)) {
                taken += *share * self.share;
                *share *= 1.0 - self.share;
            }
        }
        taken
    }
}
