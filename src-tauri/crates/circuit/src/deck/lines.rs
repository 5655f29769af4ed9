//! The lines of a deck: names of its points, resistors, currents, what moves late.

use crate::error::CircuitError;
use crate::file::fault::Fault;
use crate::file::layout::Circuit;
use crate::file::observation::State;

/// Time constants of what moves, seconds. Their size means nothing; that the fuse's is the longer one does.
pub(super) const MOVES: f64 = 1e-3;
pub(super) const BLOWS: f64 = 10e-3;
/// The name a point has in a deck: its own where SPICE can read that, else a number.
#[must_use]
pub fn spice_node(circuit: &Circuit, point: &str) -> Option<String> {
    let place = circuit.points.iter().position(|known| known.id == point);
    if point == circuit.reference { Some("0".to_owned()) } else { place.map(|place| plain(point, place)) }
}

/// SPICE reads no capitals and few signs.
pub(super) fn plain(id: &str, place: usize) -> String {
    let fits = |sign: char| sign.is_ascii_lowercase() || sign.is_ascii_digit() || sign == '_';
    if id.chars().all(fits) { format!("p_{id}") } else { format!("q{place}") }
}

pub(super) struct Deck<'a> {
    pub circuit: &'a Circuit,
    pub state: State,
    pub faults: &'a [Fault],
    pub text: String,
}

impl Deck<'_> {
    pub fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    /// A remark on one line whatever it holds: names come out of strangers' files, and a line of their own in a deck is a
    /// command to ngspice.
    pub fn remark(&mut self, text: &str) {
        let text: String = text.chars().map(|sign| if sign.is_control() { ' ' } else { sign }).collect();
        self.line(&format!("* {text}"));
    }

    pub fn point(&self, id: &str) -> Result<String, CircuitError> {
        let unknown = || CircuitError::Unknown { kind: "point", id: id.to_owned() };
        spice_node(self.circuit, id).ok_or_else(unknown)
    }

    pub fn resistor(&mut self, name: &str, a: &str, b: &str, ohms: f64) {
        if a != b {
            self.line(&format!("R_{name} {a} {b} {ohms:e}"));
        }
    }

    /// A current from `a` to `b` that follows from volts.
    pub fn current(&mut self, name: &str, a: &str, b: &str, amps: &str) {
        if a != b {
            self.line(&format!("B_{name} {a} {b} I={amps}"));
        }
    }

    /// The node `on_…` follows what its part wants, late.
    pub fn moves(&mut self, name: &str, wants: &str, seconds: f64) {
        self.line(&format!("B_want_{name} want_{name} 0 V=({wants}) ? 1 : 0"));
        self.line(&format!("R_late_{name} want_{name} on_{name} 1"));
        self.line(&format!("C_late_{name} on_{name} 0 {seconds:e} IC=0"));
    }
}
