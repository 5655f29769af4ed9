//! A layout in the making, at one step of folding.

use super::Layout;
use super::item::{Density, Given};
use crate::sheet::Sheet;

/// One way to fold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Step {
    pub level: u32,
    /// Hubs don't keep the heights they have when nothing is read.
    pub free: bool,
}

impl Step {
    pub fn density(self) -> Density {
        let rings = match self.level {
            0 => 28.0,
            1 | 2 => 16.0,
            _ => 0.0,
        };
        Density {
            rings,
            grouped: self.level >= 4,
            folded: self.level >= 1,
            quiet: self.level >= 5,
            bare: self.level >= 5,
            tight: match self.level {
                0..=3 => 0.0,
                4 | 5 => 4.0,
                _ => 6.0,
            },
            merged: self.level >= 7,
            shrunk: self.level >= 2,
        }
    }

    pub fn gap(self) -> f64 {
        if self.level < 4 { 6.0 } else { 3.0 }
    }
}

/// A layout in the making.
pub(super) struct Pack<'p> {
    pub sheet: &'p Sheet,
    pub given: Given<'p>,
    pub step: Step,
    pub out: Layout,
}

impl Pack<'_> {
    pub(super) fn level(&self) -> u32 {
        self.step.level
    }

    pub(super) fn length(&self, strand: usize) -> f64 {
        let run = self.out.items.get(&strand).map(Vec::as_slice).unwrap_or_default();
        run.iter().filter(|item| item.shown()).map(|item| item.room + self.step.gap()).sum::<f64>() + 6.0
    }
}
