//! A whole deck: head, parts, shorts, what is put in, and the print of every point.

use crate::deck::lines::{Deck, MOVES, spice_node};
use crate::error::CircuitError;
use crate::file::component::{Component, ComponentKind};
use crate::file::fault::{Fault, FaultMode};
use crate::file::layout::Circuit;
use crate::file::observation::State;
use crate::solve::bend::Bend;
use crate::solve::wiring::full_state;

/// A fuse that blows, and what falls or starts after it, have settled to 1e-5 by then.
const SETTLED: f64 = 150e-3;

/// A whole SPICE deck of one state, with a meter of `meter_ohms` between two points, and the print of every point.
///
/// # Errors
/// [`CircuitError::Unknown`] for names that aren't in the circuit.
pub fn spice_deck(
    circuit: &Circuit,
    state: &State,
    faults: &[Fault],
    load: Option<&str>,
    meter: Option<(&str, &str, f64)>,
) -> Result<String, CircuitError> {
    let mut deck = Deck { circuit, state: full_state(circuit, state)?, faults, text: String::new() };
    deck.head()?;
    for part in &circuit.components {
        if part.is_present(&deck.state) {
            deck.part(part);
        }
    }
    deck.shorts()?;
    if let Some(id) = load {
        let load = circuit.loads.iter().find(|load| load.id == id);
        let load = load.ok_or_else(|| CircuitError::Unknown { kind: "load", id: id.to_owned() })?;
        let (a, b) = (deck.point(&load.from)?, deck.point(&load.to)?);
        match Bend::of_load(load) {
            Some(bend) => deck.bent("put_in", &a, &b, bend),
            None => deck.resistor("put_in", &a, &b, load.ohms),
        }
    }
    if let Some((red, black, ohms)) = meter {
        let (red, black) = (deck.point(red)?, deck.point(black)?);
        deck.resistor("meter", &red, &black, ohms);
    }
    deck.tail();
    Ok(deck.text)
}

impl Deck<'_> {
    fn head(&mut self) -> Result<(), CircuitError> {
        self.remark(&format!("{} version {}", self.circuit.id, self.circuit.version));
        let state: Vec<String> =
            self.state.iter().map(|(variable, value)| format!("{variable}={value}")).collect();
        self.remark(&format!("state: {}", state.join(", ")));
        for fault in self.faults {
            let known = self.circuit.components.iter().any(|part| part.id == fault.component);
            if !known {
                return Err(CircuitError::Unknown { kind: "component", id: fault.component.clone() });
            }
            let Fault { component, mode, severity, .. } = fault;
            self.remark(&format!("fault: {component}/{} {severity:e}", mode.code()));
        }
        for point in &self.circuit.points {
            let node = self.point(&point.id)?;
            self.remark(&format!("{node} is {}", point.id));
        }
        Ok(())
    }

    /// Settles and prints. What floats gets 1 Tohm to ground: ngspice wants a path. The nanofarad beside it keeps
    /// every point's volts from jumping where a part goes over to another line.
    fn tail(&mut self) {
        self.line(".options rshunt=1e12 cshunt=1e-9 itl4=100 method=gear");
        self.line(".control\nset numdgt=10");
        self.line(&format!("tran {MOVES} {SETTLED} 0 2m uic\nlet last = length(time) - 1"));
        for point in &self.circuit.points {
            match spice_node(self.circuit, &point.id) {
                Some(node) if node != "0" => self.line(&format!("print v({node})[last]")),
                _ => {}
            }
        }
        self.line("quit\n.endc\n.end");
    }

    fn shorts(&mut self) -> Result<(), CircuitError> {
        let battery = |part: &&Component| matches!(part.kind, ComponentKind::Battery { .. });
        let feed = self.circuit.components.iter().find(battery).map(|part| self.ends(part)[0].clone());
        for (i, fault) in self.faults.iter().enumerate() {
            let Some(part) = self.circuit.components.iter().find(|part| part.id == fault.component) else {
                continue;
            };
            let [a, b, _] = self.ends(part);
            let at = fault.at.as_deref().map_or(Ok(a.clone()), |at| self.point(at))?;
            let (from, to) = match fault.mode {
                FaultMode::ShortToGround => (at, "0".to_owned()),
                FaultMode::ShortToFeed => (at, feed.clone().unwrap_or_else(|| "0".to_owned())),
                FaultMode::ShortAcross if part.is_present(&self.state) => (a, b),
                _ => continue,
            };
            self.resistor(&format!("short_{i}"), &from, &to, fault.severity);
        }
        Ok(())
    }
}
