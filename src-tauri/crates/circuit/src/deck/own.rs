//! The faults of one part, as the deck asks for them.

use crate::deck::lines::Deck;
use crate::file::component::Component;
use crate::file::fault::FaultMode;

impl Deck<'_> {
    pub(super) fn severity(&self, part: &Component, mode: FaultMode) -> Option<f64> {
        self.faults.iter().find(|f| f.component == part.id && f.mode == mode).map(|fault| fault.severity)
    }

    pub(super) fn has(&self, part: &Component, mode: FaultMode) -> bool {
        self.severity(part, mode).is_some()
    }

    pub(super) fn factor(&self, part: &Component) -> f64 {
        self.severity(part, FaultMode::DrawsTooMuch).unwrap_or(1.0)
    }

    /// Resistance in series, as faults add it.
    pub(super) fn added(&self, part: &Component) -> f64 {
        let modes = [FaultMode::HighResistance, FaultMode::Weak];
        modes.iter().filter_map(|mode| self.severity(part, *mode)).sum()
    }
}
