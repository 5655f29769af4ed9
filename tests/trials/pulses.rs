//! What a duty display shows on a vehicle: the share of the time the volts are above 2.5 V.

use std::sync::Arc;

use circuit::{ComponentKind, FaultMode, Test, settled_netlist};

use super::Vehicle;
use crate::Failure;

/// A display counts as high what lies above this.
const HIGH_VOLTS: f64 = 2.5;
/// From so many amperes on a winding keeps its current between the pulses.
const KEPT_FROM: f64 = 0.05;

impl Vehicle {
    /// Percent; nothing where the volts don't cross the threshold.
    pub(super) fn duty(&self, test: &Test, red: &str, black: &str) -> Result<Option<f64>, Failure> {
        let Some(duty) = self.asked() else { return Ok(None) };
        let on = self.driven(test, true)?;
        let high = on.volts(test, red, black)?;
        let low = if on.circuit == self.driven_plainly(true).circuit {
            self.driven(test, false)?.volts(test, red, black)?
        } else {
            // What is kept while it is on, and what there is on average, leave only one value for the rest of the time.
            (self.volts(test, red, black)? - duty * high) / (1.0 - duty)
        };
        Ok(match (high > HIGH_VOLTS, low > HIGH_VOLTS) {
            (true, false) => Some(duty * 100.0),
            (false, true) => Some((1.0 - duty) * 100.0),
            _ => None,
        })
    }

    /// Duty of the first driver that pulses, as it is with its fault.
    fn asked(&self) -> Option<f64> {
        self.circuit.components.iter().find_map(|part| {
            let (ComponentKind::HighSideDriver { duty, .. } | ComponentKind::LowSideDriver { duty, .. }) =
                &part.kind
            else {
                return None;
            };
            let low =
                |fault: &&circuit::Fault| fault.component == part.id && fault.mode == FaultMode::LowDuty;
            let factor = self.faults.iter().find(low).map_or(1.0, |fault| fault.severity);
            duty.map(|duty| duty * factor)
        })
    }

    /// Every driver that pulses on, or off, all the time.
    fn driven_plainly(&self, on: bool) -> Self {
        let mut other = self.clone();
        for part in &mut Arc::make_mut(&mut other.circuit).components {
            if let ComponentKind::HighSideDriver { duty, on_when, .. }
            | ComponentKind::LowSideDriver { duty, on_when, .. } = &mut part.kind
                && duty.take().is_some()
                && !on
            {
                on_when.insert("never".to_owned(), Vec::new());
            }
        }
        other.faults.retain(|fault| fault.mode != FaultMode::LowDuty);
        other
    }

    /// The same; while it is on, windings draw the current that they have on the average.
    fn driven(&self, test: &Test, on: bool) -> Result<Self, Failure> {
        let mut other = self.driven_plainly(on);
        for (place, part) in self.circuit.components.iter().enumerate().filter(|_| on) {
            let (ComponentKind::Motor { from, to, .. } | ComponentKind::Coil { from, to, .. }) = &part.kind
            else {
                continue;
            };
            let amps = self.clamped(test, from, to)?;
            if amps >= KEPT_FROM {
                let (from, to) = (from.clone(), to.clone());
                Arc::make_mut(&mut other.circuit).components[place].kind =
                    ComponentKind::CurrentDraw { from, to, amps, least_volts: 0.01 };
                other.faults.retain(|fault| fault.component != part.id);
            }
        }
        Ok(other)
    }

    fn volts(&self, test: &Test, red: &str, black: &str) -> Result<f64, Failure> {
        let netlist = settled_netlist(&self.circuit, &test.state, &self.faults, test.load.as_deref())?;
        let ends = netlist.find(red).zip(netlist.find(black));
        let solved = netlist.solve()?;
        Ok(ends.and_then(|(a, b)| solved.between(a, b)).unwrap_or(0.0))
    }
}
