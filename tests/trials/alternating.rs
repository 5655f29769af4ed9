//! Sensors that give AC volts by themselves while something turns.

use circuit::{ComponentKind, Element, FaultMode, Test, settled_netlist};

use super::Vehicle;
use crate::Failure;

impl Vehicle {
    /// AC volts between two points and their frequency: the pick-up as a current source beside its winding (Norton), in a
    /// netlist without anything else that gives current, solved whole.
    pub(super) fn alternating(
        &self,
        test: &Test,
        red: &str,
        black: &str,
        input: f64,
    ) -> Result<(f64, f64), Failure> {
        let live = settled_netlist(&self.circuit, &test.state, &self.faults, test.load.as_deref())?;
        let mut dead = self.dead(&live);
        let full = self.full(&test.state);
        let holds = |conditions: &circuit::Conditions| {
            conditions.iter().all(|(name, values)| full.get(name).is_some_and(|value| values.contains(value)))
        };
        let mut turning = 0.0;
        for part in &self.circuit.components {
            let ComponentKind::PickUp { from, to, ohms, volts_ac, hertz, turned_when, .. } = &part.kind
            else {
                continue;
            };
            let fault = |mode| self.faults.iter().find(|one| one.component == part.id && one.mode == mode);
            if !holds(turned_when) || !holds(&part.present_when) || fault(FaultMode::Open).is_some() {
                continue;
            }
            let volts = fault(FaultMode::LowVoltage).map_or(*volts_ac, |fault| fault.severity);
            let ohms = ohms * fault(FaultMode::DrawsTooMuch).map_or(1.0, |fault| fault.severity)
                + fault(FaultMode::HighResistance).map_or(0.0, |fault| fault.severity);
            let (from, to) = (dead.node(from), dead.node(to));
            dead.add(Element::Amps { from: to, to: from, amps: volts / ohms });
            turning = *hertz;
        }
        let (Some(a), Some(b)) = (dead.find(red), dead.find(black)) else { return Ok((0.0, turning)) };
        if input.is_finite() {
            dead.add(Element::Resistor { a, b, ohms: input });
        }
        Ok((dead.solve()?.between(a, b).unwrap_or(0.0).abs(), turning))
    }
}
