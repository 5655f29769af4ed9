//! Fuses that a fault blew: they stay blown in every state but those in which a new one is fitted.

use crate::error::CircuitError;
use crate::file::component::ComponentKind;
use crate::file::fault::FaultMode;
use crate::predict::model::Model;
use crate::solve::part::{Failing, Part, Position};
use crate::solve::settle::settle;
use crate::solve::wiring::Setting;

impl Model<'_> {
    /// The faults as they are in a state, with the fuses they blew, and these fuses.
    ///
    /// # Errors
    /// A circuit without solution.
    pub(super) fn with_blown(
        &self,
        setting: &Setting,
        faults: &[Failing],
    ) -> Result<(Vec<Failing>, Vec<usize>), CircuitError> {
        let blown = self.blown(faults)?;
        let still = blown.iter().filter(|fuse| setting.forced.get(**fuse) != Some(&true));
        // A new fuse has nothing of what was wrong with the old one.
        let old = |fault: &&Failing| !self.is_new(setting, fault.part);
        let all = faults.iter().filter(old).copied().chain(still.map(|fuse| is_open(*fuse))).collect();
        Ok((all, blown))
    }

    fn is_new(&self, setting: &Setting, part: usize) -> bool {
        let is_fuse = |part: &Part<'_>| matches!(part.component.kind, ComponentKind::Fuse { .. });
        setting.forced.get(part) == Some(&true) && self.wiring.parts.get(part).is_some_and(is_fuse)
    }

    /// Fuses that these faults blew when the complaint first showed. They stay blown in every other state.
    fn blown(&self, faults: &[Failing]) -> Result<Vec<usize>, CircuitError> {
        let Some(shown) = self.shown.as_ref().filter(|_| faults.iter().any(draws_more)) else {
            return Ok(Vec::new());
        };
        let settled = settle(&self.wiring, shown, faults)?;
        let fuses = settled.positions.iter().enumerate();
        Ok(fuses.filter(|(_, position)| **position == Position::Blown).map(|(i, _)| i).collect())
    }
}

/// Can the fault send more through a fuse than its circuit does?
const fn draws_more(fault: &Failing) -> bool {
    use FaultMode as Mode;
    matches!(
        fault.mode,
        Mode::ShortToGround
            | Mode::ShortToFeed
            | Mode::ShortAcross
            | Mode::DrawsTooMuch
            | Mode::Jammed
            | Mode::StuckClosed
            | Mode::AlwaysOn
    )
}

/// A blown fuse, as a fault.
const fn is_open(part: usize) -> Failing {
    Failing { part, mode: FaultMode::Open, severity: 0.0, at: 0 }
}
