//! A deck for ngspice, and what came out of it.
//!
//! A pulsed driver is neither averaged by a formula nor simulated in time. The deck holds the circuit twice, once with the
//! driver on and once with it off and the current going round through the freewheel diode. Coils and motors keep their
//! current through both: each is a current source in both copies, `I = (share·V_on + (1 − share)·V_off) / R`, which is a
//! winding whose inductance lets no ripple through. Everything else sees its own volts in each copy. What a meter shows is
//! the average over both by their share of time.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::Failure;
use super::spice::{self, Solved};

/// Which of the copies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Phase {
    Steady,
    On,
    Off,
}

impl Phase {
    const fn letter(self) -> char {
        match self {
            Self::Steady => 's',
            Self::On => 'h',
            Self::Off => 'l',
        }
    }
}

/// The inner two ends of a part and, where it is one, its resistance.
#[derive(Debug, Clone)]
struct Inner {
    from: String,
    to: String,
    ohms: Option<f64>,
    /// Source that counts the current.
    counter: Option<String>,
}

/// A deck being written.
pub struct Deck {
    text: String,
    lines: usize,
    points: BTreeMap<String, usize>,
    reference: String,
    inner: BTreeMap<(usize, Phase), Inner>,
    /// Share of the time that the pulsed driver is on.
    pub share: Option<f64>,
}

impl Deck {
    pub fn new(reference: &str, points: &[String], share: Option<f64>) -> Self {
        let points = points.iter().enumerate().map(|(number, point)| (point.clone(), number)).collect();
        let reference = reference.to_owned();
        // DANGER: ngspice 39 writes beyond its memory when it forgets a deck without any voltage source.
        Self {
            text: "* garage\nV0 zero 0 0\n".to_owned(),
            lines: 0,
            points,
            reference,
            inner: BTreeMap::new(),
            share,
        }
    }

    pub const fn phases(&self) -> &'static [Phase] {
        if self.share.is_some() { &[Phase::On, Phase::Off] } else { &[Phase::Steady] }
    }

    /// Node of a point. A point nobody knows hangs in the air.
    pub fn node(&self, point: &str, phase: Phase) -> String {
        if point == self.reference {
            return "0".to_owned();
        }
        match self.points.get(point) {
            Some(number) => format!("{}n{number}", phase.letter()),
            None => format!("{}nowhere", phase.letter()),
        }
    }

    /// A node of the deck's own.
    pub fn fresh(&mut self, phase: Phase) -> String {
        self.lines += 1;
        format!("{}x{}", phase.letter(), self.lines)
    }

    fn line(&mut self, kind: char, rest: &str) -> String {
        self.lines += 1;
        let name = format!("{kind}{}", self.lines);
        // Writing into a string can't fail.
        let _written = writeln!(self.text, "{name} {rest}");
        name
    }

    pub fn resistor(&mut self, from: &str, to: &str, ohms: f64) {
        self.line('R', &format!("{from} {to} {:e}", ohms.clamp(1e-7, 1e12)));
    }

    pub fn source(&mut self, plus: &str, minus: &str, volts: f64) -> String {
        self.line('V', &format!("{plus} {minus} {volts:e}"))
    }

    /// Current that leaves `from` and enters `to` through the source.
    pub fn current(&mut self, from: &str, to: &str, amps: f64) {
        self.line('I', &format!("{from} {to} {amps:e}"));
    }

    /// Current from → to in proportion to the volts between two other nodes.
    pub fn follows(&mut self, ends: (&str, &str), sensed: (&str, &str), siemens: f64) {
        self.line('G', &format!("{} {} {} {} {siemens:e}", ends.0, ends.1, sensed.0, sensed.1));
    }

    pub fn behaves(&mut self, from: &str, to: &str, law: &str) {
        self.line('B', &format!("{from} {to} {law}"));
    }

    /// Junction with its own exponential law, scaled so that it drops `volts` at 10 mA.
    pub fn junction(&mut self, anode: &str, cathode: &str, volts: f64, ohms: f64) {
        let steepness = 1.7 * volts / 0.7;
        let saturation = 0.01 * (-volts / (steepness * 0.025_85)).exp();
        self.line('D', &format!("{anode} {cathode} d{}", self.lines + 1));
        let model = self.lines;
        let _written = writeln!(
            self.text,
            ".model d{model} d(is={saturation:e} n={steepness:e} rs={:e})",
            ohms.max(1e-4)
        );
    }

    /// Notes where a part's own body lies.
    pub fn note(&mut self, index: usize, phase: Phase, ends: (&str, &str), ohms: Option<f64>) {
        let inner = Inner { from: ends.0.to_owned(), to: ends.1.to_owned(), ohms, counter: None };
        self.inner.insert((index, phase), inner);
    }

    pub fn count_by(&mut self, index: usize, phase: Phase, counter: String) {
        if let Some(inner) = self.inner.get_mut(&(index, phase)) {
            inner.counter = Some(counter.to_lowercase());
        }
    }

    /// Lets ngspice solve it.
    ///
    /// # Errors
    /// No operating point.
    pub fn solve(self) -> Result<Solution, Failure> {
        // Dirt and damp everywhere: a point that hangs in the air still has a voltage.
        let with =
            |tolerances: &str| format!("{}.options rshunt=1e11 itl1=400 {tolerances}\n.end\n", self.text);
        let solved = spice::operating_point(&with("reltol=1e-6 abstol=1e-13 vntol=1e-8"))
            .or_else(|_| spice::operating_point(&with("reltol=1e-4 abstol=1e-9 vntol=1e-6 gmin=1e-10")))?;
        Ok(Solution { deck: self, solved })
    }
}

/// The volts and amperes of one solved deck.
pub struct Solution {
    deck: Deck,
    solved: Solved,
}

impl Solution {
    fn at(&self, node: &str) -> f64 {
        if node == "0" { 0.0 } else { self.solved.get(node).copied().unwrap_or(0.0) }
    }

    fn average(&self, value: impl Fn(Phase) -> f64) -> f64 {
        match self.deck.share {
            Some(share) => share * value(Phase::On) + (1.0 - share) * value(Phase::Off),
            None => value(Phase::Steady),
        }
    }

    fn point(&self, point: &str, phase: Phase) -> f64 {
        self.at(&self.deck.node(point, phase))
    }

    /// Average volts from red to black.
    pub fn between(&self, red: &str, black: &str) -> f64 {
        self.average(|phase| self.point(red, phase) - self.point(black, phase))
    }

    /// Lowest and highest volts from red to black over the pulses.
    pub fn extremes(&self, red: &str, black: &str) -> (f64, f64) {
        let volts = |phase| self.point(red, phase) - self.point(black, phase);
        let all = self.deck.phases().iter().map(|phase| volts(*phase));
        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| (low.min(one), high.max(one)))
    }

    /// Volts while the pulsed driver is on and while it is off, with the share of the time it is on.
    pub fn pulses(&self, red: &str, black: &str) -> Option<(f64, f64, f64)> {
        let volts = |phase| self.point(red, phase) - self.point(black, phase);
        self.deck.share.map(|share| (volts(Phase::On), volts(Phase::Off), share))
    }

    fn across_in(&self, index: usize, phase: Phase) -> f64 {
        let inner = self.deck.inner.get(&(index, phase));
        inner.map_or(0.0, |inner| self.at(&inner.from) - self.at(&inner.to))
    }

    /// Average volts across a part's own body; nothing across one that is out or burnt through.
    pub fn across(&self, index: usize) -> f64 {
        self.average(|phase| self.across_in(index, phase))
    }

    /// The same while the pulsed driver is on.
    pub fn across_while_on(&self, index: usize) -> f64 {
        self.across_in(index, if self.deck.share.is_some() { Phase::On } else { Phase::Steady })
    }

    /// Average current through a part's body, from its first end to its second.
    pub fn through(&self, index: usize) -> f64 {
        self.average(|phase| {
            let Some(inner) = self.deck.inner.get(&(index, phase)) else { return 0.0 };
            if let Some(counter) = &inner.counter {
                return self.solved.get(&format!("{counter}#branch")).copied().unwrap_or(0.0);
            }
            let volts = self.at(&inner.from) - self.at(&inner.to);
            inner.ohms.map_or(0.0, |ohms| volts / ohms)
        })
    }
}
