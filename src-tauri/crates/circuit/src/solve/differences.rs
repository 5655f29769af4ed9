//! In what two lists of elements differ.

use crate::solve::element::Element;

/// More resistors than this, and factoring anew is as quick.
const FEW: usize = 3;

/// What a list of elements has more, or less, than another.
#[derive(Debug, Default)]
pub(crate) struct Differences {
    /// Node, node, siemens.
    pub siemens: Vec<(usize, usize, f64)>,
    /// Row of the source's branch, volts.
    pub volts: Vec<(usize, f64)>,
    /// From, to, amperes.
    pub amps: Vec<(usize, usize, f64)>,
    /// A resistor came or went, which may join or part nodes.
    pub joins_or_parts: bool,
}

impl Differences {
    /// Nothing when they differ in more than a few resistors, or in the sources they have.
    pub fn between(base: &[Element], now: &[Element], nodes: usize) -> Option<Self> {
        let mut all = Self::default();
        let (mut old, mut new, mut branch) = (base.iter().peekable(), now.iter().peekable(), nodes);
        loop {
            let (left, right) = (old.peek().copied(), new.peek().copied());
            let (Some(left), Some(right)) = (left, right) else {
                let gone = old.try_for_each(|left| all.one(left, -1.0));
                return gone.and_then(|()| new.try_for_each(|right| all.one(right, 1.0))).map(|()| all);
            };
            if same_place(left, right) {
                all.changed(left, right, branch)?;
                branch += usize::from(left.has_branch());
                old.next();
                new.next();
            } else if !follows(&old, right) && follows(&new, left) {
                all.one(right, 1.0)?;
                new.next();
            } else {
                all.one(left, -1.0)?;
                old.next();
            }
        }
    }

    fn changed(&mut self, left: &Element, right: &Element, branch: usize) -> Option<()> {
        match (left, right) {
            (Element::Resistor { a, b, ohms }, Element::Resistor { ohms: now, .. }) if ohms != now => {
                self.resistor(*a, *b, now.recip() - ohms.recip())
            }
            (Element::Volts { volts, .. }, Element::Volts { volts: now, .. }) if volts != now => {
                self.volts.push((branch, now - volts));
                Some(())
            }
            (Element::Amps { from, to, amps }, Element::Amps { amps: now, .. }) if amps != now => {
                self.amps.push((*from, *to, now - amps));
                Some(())
            }
            _ => Some(()),
        }
    }

    /// An element that is in one list only.
    fn one(&mut self, element: &Element, sign: f64) -> Option<()> {
        match *element {
            Element::Resistor { a, b, ohms } => {
                self.joins_or_parts = true;
                self.resistor(a, b, sign / ohms)
            }
            Element::Amps { from, to, amps } => {
                self.amps.push((from, to, sign * amps));
                Some(())
            }
            Element::Volts { .. } | Element::Follower { .. } | Element::Pulsed { .. } => None,
        }
    }

    fn resistor(&mut self, a: usize, b: usize, siemens: f64) -> Option<()> {
        self.siemens.push((a, b, siemens));
        (self.siemens.len() <= FEW).then_some(())
    }
}

/// Does an element of this place come within the next few?
fn follows<'e>(
    list: &std::iter::Peekable<impl Iterator<Item = &'e Element> + Clone>,
    wanted: &Element,
) -> bool {
    list.clone().take(FEW + 1).any(|element| same_place(element, wanted))
}

/// The same sort of element between the same nodes: only its number may differ.
fn same_place(left: &Element, right: &Element) -> bool {
    match (left, right) {
        (Element::Resistor { a, b, .. }, Element::Resistor { a: c, b: d, .. }) => (a, b) == (c, d),
        (Element::Volts { plus, minus, .. }, Element::Volts { plus: p, minus: m, .. }) => {
            (plus, minus) == (p, m)
        }
        (Element::Amps { from, to, .. }, Element::Amps { from: f, to: t, .. }) => (from, to) == (f, t),
        _ => left == right,
    }
}
