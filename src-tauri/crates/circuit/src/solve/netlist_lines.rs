//! Reading and writing plain netlists: R, V, I, and sources that follow a share of another voltage.

use std::fmt::Write as _;

use crate::error::CircuitError;
use crate::solve::element::Element;
use crate::solve::netlist::Netlist;

impl Netlist {
    /// Reads element lines (`Rname a b 75`, `Vname + - 12.5`, `Iname from to 1m`, `Ename + - c+ c- gain`); lines
    /// that begin with `*` or `.` are left out. Node `0` is the reference.
    ///
    /// # Errors
    /// [`CircuitError::Unreadable`] with the line that isn't one of these.
    pub fn from_lines(text: &str) -> Result<Self, CircuitError> {
        let mut netlist = Self::new("0");
        let lines = text.lines().map(str::trim);
        for line in lines.filter(|line| !line.is_empty() && !line.starts_with(['*', '.'])) {
            let element = element_of(&mut netlist, line)
                .ok_or_else(|| CircuitError::Unreadable(format!("netlist line {line:?}")))?;
            netlist.add(element);
        }
        Ok(netlist)
    }

    /// The same netlist as text that ngspice reads; node 0 is written `0`, others `n1`, `n2` and so on.
    #[must_use]
    pub fn to_lines(&self) -> String {
        let node = |number: usize| if number == 0 { "0".to_owned() } else { format!("n{number}") };
        let mut text = String::new();
        for (i, element) in self.elements().iter().enumerate() {
            let line = match *element {
                Element::Resistor { a, b, ohms } => format!("R{i} {} {} {ohms:e}", node(a), node(b)),
                Element::Volts { plus, minus, volts } => {
                    format!("V{i} {} {} {volts:e}", node(plus), node(minus))
                }
                // The source without volts in front carries the current that the feed gives.
                Element::Pulsed { plus, minus, of_plus, of_minus, gain, ohms, drop } => format!(
                    "V{i} {} x{i} 0\nR{i} x{i} y{i} {ohms:e}\nE{i} y{i} z{i} {} {} {gain:e}\nVd{i} {} z{i} {drop:e}\nF{i} {} {} V{i} {:e}",
                    node(plus),
                    node(of_plus),
                    node(of_minus),
                    node(minus),
                    node(of_plus),
                    node(of_minus),
                    -gain
                ),
                Element::Amps { from, to, amps } => format!("I{i} {} {} {amps:e}", node(from), node(to)),
                Element::Follower { plus, minus, of_plus, of_minus, gain } => format!(
                    "E{i} {} {} {} {} {gain:e}",
                    node(plus),
                    node(minus),
                    node(of_plus),
                    node(of_minus)
                ),
            };
            let _ = writeln!(text, "{line}");
        }
        text
    }
}

fn element_of(netlist: &mut Netlist, line: &str) -> Option<Element> {
    let words: Vec<&str> = line.split_whitespace().collect();
    let sort = words.first()?.chars().next()?.to_ascii_uppercase();
    match (sort, words.get(1..)?) {
        ('R', [a, b, value]) => {
            Some(Element::Resistor { a: netlist.node(a), b: netlist.node(b), ohms: number(value)? })
        }
        ('V', [plus, minus, value]) => Some(Element::Volts {
            plus: netlist.node(plus),
            minus: netlist.node(minus),
            volts: number(value)?,
        }),
        ('I', [from, to, value]) => {
            Some(Element::Amps { from: netlist.node(from), to: netlist.node(to), amps: number(value)? })
        }
        ('E', [plus, minus, of_plus, of_minus, gain]) => Some(Element::Follower {
            plus: netlist.node(plus),
            minus: netlist.node(minus),
            of_plus: netlist.node(of_plus),
            of_minus: netlist.node(of_minus),
            gain: number(gain)?,
        }),
        _ => None,
    }
}

/// A number with an engineering suffix of the SPICE family (`meg`, `k`, `m`, `u`).
fn number(word: &str) -> Option<f64> {
    let lower = word.to_ascii_lowercase();
    for (suffix, scale) in [("meg", 1e6), ("k", 1e3), ("m", 1e-3), ("u", 1e-6)] {
        if let Some(plain) = lower.strip_suffix(suffix) {
            return plain.parse::<f64>().ok().map(|value| value * scale);
        }
    }
    lower.parse().ok()
}
