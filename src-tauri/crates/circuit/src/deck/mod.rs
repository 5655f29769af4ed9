//! A circuit in one state as a deck that ngspice runs as it is, so that anyone can compare. Every part stands in it as
//! what it is: ngspice finds out by itself which relay pulls, which diode conducts and which fuse blows.
//!
//! Everything starts at rest with the battery connected, and moves with a delay of [`MOVES`]; a fuse waits longer, so
//! that it takes the rush into what hasn't moved yet. What counts are the volts when all has settled.

mod modules;
mod own;
mod parts;

use crate::error::CircuitError;
use crate::file::component::{Component, ComponentKind};
use crate::file::fault::{Fault, FaultMode};
use crate::file::layout::Circuit;
use crate::file::observation::State;
use crate::predict::cause::mode_name;
use crate::solve::bend::Bend;
use crate::solve::wiring::full_state;

/// Time constants of what moves, seconds. Their size means nothing; that the fuse's is the longer one does.
const MOVES: f64 = 1e-3;
const BLOWS: f64 = 10e-3;
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

/// The name a point has in a deck: its own where SPICE can read that, else a number.
#[must_use]
pub fn spice_node(circuit: &Circuit, point: &str) -> Option<String> {
    let place = circuit.points.iter().position(|known| known.id == point);
    if point == circuit.reference { Some("0".to_owned()) } else { place.map(|place| plain(point, place)) }
}

/// SPICE reads no capitals and few signs.
fn plain(id: &str, place: usize) -> String {
    let fits = |sign: char| sign.is_ascii_lowercase() || sign.is_ascii_digit() || sign == '_';
    if id.chars().all(fits) { format!("p_{id}") } else { format!("q{place}") }
}

struct Deck<'a> {
    circuit: &'a Circuit,
    state: State,
    faults: &'a [Fault],
    text: String,
}

impl Deck<'_> {
    fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    /// A remark on one line whatever it holds: names come out of strangers' files, and a line of their own in a deck is a
    /// command to ngspice.
    fn remark(&mut self, text: &str) {
        let text: String = text.chars().map(|sign| if sign.is_control() { ' ' } else { sign }).collect();
        self.line(&format!("* {text}"));
    }

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
            self.remark(&format!("fault: {component}/{} {severity:e}", mode_name(*mode)));
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

    fn point(&self, id: &str) -> Result<String, CircuitError> {
        let unknown = || CircuitError::Unknown { kind: "point", id: id.to_owned() };
        spice_node(self.circuit, id).ok_or_else(unknown)
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

    fn resistor(&mut self, name: &str, a: &str, b: &str, ohms: f64) {
        if a != b {
            self.line(&format!("R_{name} {a} {b} {ohms:e}"));
        }
    }

    /// A current from `a` to `b` that follows from volts.
    fn current(&mut self, name: &str, a: &str, b: &str, amps: &str) {
        if a != b {
            self.line(&format!("B_{name} {a} {b} I={amps}"));
        }
    }

    /// The node `on_…` follows what its part wants, late.
    fn moves(&mut self, name: &str, wants: &str, seconds: f64) {
        self.line(&format!("B_want_{name} want_{name} 0 V=({wants}) ? 1 : 0"));
        self.line(&format!("R_late_{name} want_{name} on_{name} 1"));
        self.line(&format!("C_late_{name} on_{name} 0 {seconds:e} IC=0"));
    }
}
