//! Resistors, sources, and the volts they make: modified nodal analysis with a dense LU.
//!
//! Formulation: C.-W. Ho, A. Ruehli, P. Brennan, "The modified nodal approach to network analysis" (1975).

use std::collections::BTreeMap;

use nalgebra::{DMatrix, DVector, Dyn, LU};

use crate::error::CircuitError;

/// One element between two nodes, given by number. Node 0 is the reference.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Element {
    /// Resistor, ohm, above zero.
    Resistor {
        /// One node.
        a: usize,
        /// Other node.
        b: usize,
        /// Ohm.
        ohms: f64,
    },
    /// Ideal voltage source, volts from `minus` to `plus`.
    Volts {
        /// Positive node.
        plus: usize,
        /// Negative node.
        minus: usize,
        /// Volts.
        volts: f64,
    },
    /// Ideal voltage source that follows `gain` × the volts between two other nodes (an averaged PWM drive).
    Follower {
        /// Positive node.
        plus: usize,
        /// Negative node.
        minus: usize,
        /// Positive node that is followed.
        of_plus: usize,
        /// Negative node that is followed.
        of_minus: usize,
        /// Volts out per volt in.
        gain: f64,
    },
    /// A pulsed drive as its average, behind a resistance: `gain` × the volts between two other nodes, and `gain` × its
    /// current taken back from them, so that no energy is made.
    Pulsed {
        /// Positive node.
        plus: usize,
        /// Negative node.
        minus: usize,
        /// Positive node of its feed.
        of_plus: usize,
        /// Negative node of its feed.
        of_minus: usize,
        /// Duty.
        gain: f64,
        /// Resistance behind it, ohm.
        ohms: f64,
    },
    /// Ideal current source: it takes its current out of node `from` and pushes it into node `to`.
    Amps {
        /// Node the current leaves.
        from: usize,
        /// Node the current enters.
        to: usize,
        /// Amperes.
        amps: f64,
    },
}

/// A netlist: a number of nodes and elements between them.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Netlist {
    names: Vec<String>,
    numbers: BTreeMap<String, usize>,
    elements: Vec<Element>,
}

impl Netlist {
    /// Empty netlist whose node 0 has the given name.
    #[must_use]
    pub fn new(reference: &str) -> Self {
        let mut netlist = Self::default();
        netlist.node(reference);
        netlist
    }

    /// Number of the named node, added if new.
    pub fn node(&mut self, name: &str) -> usize {
        if let Some(number) = self.numbers.get(name) {
            return *number;
        }
        let number = self.names.len();
        self.names.push(name.to_owned());
        self.numbers.insert(name.to_owned(), number);
        number
    }

    /// Number of a node that is there.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<usize> {
        self.numbers.get(name).copied()
    }

    /// Names by number.
    #[must_use]
    pub fn names(&self) -> &[String] {
        &self.names
    }

    /// Adds an element.
    pub fn add(&mut self, element: Element) {
        self.elements.push(element);
    }

    /// Elements in the order they were added.
    #[must_use]
    pub fn elements(&self) -> &[Element] {
        &self.elements
    }

    /// Solves it.
    ///
    /// # Errors
    /// [`CircuitError::NoSolution`] when ideal sources conflict or a current source has nowhere to go.
    pub fn solve(&self) -> Result<Solved, CircuitError> {
        solve_elements(self.names.len(), &self.elements)
    }
}

/// Solves elements between nodes `0..nodes`.
pub(crate) fn solve_elements(nodes: usize, elements: &[Element]) -> Result<Solved, CircuitError> {
    let islands = Islands::of(nodes, elements);
    let size = nodes + elements.iter().filter(|element| element.has_branch()).count();
    let mut matrix = DMatrix::<f64>::zeros(size, size);
    let mut right = DVector::<f64>::zeros(size);
    let mut branch = nodes;
    for element in elements {
        element.stamp(&mut matrix, &mut right, branch);
        branch += usize::from(element.has_branch());
    }
    islands.pin(&mut matrix, &mut right);
    let factors = matrix.lu();
    let values = factors.solve(&right).filter(|values| values.iter().all(|value| value.is_finite()));
    let values = values.ok_or_else(|| CircuitError::NoSolution("ideal sources conflict".to_owned()))?;
    Ok(Solved { values, factors, islands, sources: nodes })
}

/// Volts of a solved netlist, with its factors for further questions.
#[derive(Debug, Clone)]
pub struct Solved {
    values: DVector<f64>,
    factors: LU<f64, Dyn, Dyn>,
    islands: Islands,
    sources: usize,
}

impl Solved {
    /// Volts of a node against node 0. Nothing when the node floats: no path leads to node 0.
    #[must_use]
    pub fn volts(&self, node: usize) -> Option<f64> {
        self.values.get(node).copied().filter(|_| self.islands.together(node, 0))
    }

    /// Volts from `black` to `red`; nothing when no path joins them.
    #[must_use]
    pub fn between(&self, red: usize, black: usize) -> Option<f64> {
        let joined = self.islands.together(red, black);
        let volts = self.values.get(red).zip(self.values.get(black)).map(|(red, black)| red - black);
        volts.filter(|_| joined)
    }

    /// Current through the n-th voltage source or follower, amperes from plus through the source to minus.
    #[must_use]
    pub fn source_amps(&self, n: usize) -> Option<f64> {
        self.values.get(self.sources + n).copied()
    }

    /// What one ampere into `red` and out of `black` does, all independent sources at rest: volts between them are
    /// the Thevenin resistance in ohm. Nothing when no path joins them.
    #[must_use]
    pub fn probe(&self, red: usize, black: usize) -> Option<Probe> {
        if !self.islands.together(red, black) {
            return None;
        }
        let mut right = DVector::<f64>::zeros(self.values.len());
        for (node, amps) in [(red, 1.0), (black, -1.0)] {
            if let Some(entry) = right.get_mut(node).filter(|_| !self.islands.is_pin(node)) {
                *entry += amps;
            }
        }
        self.factors.solve(&right).map(|values| Probe { values, sources: self.sources })
    }
}

/// Response to one ampere between two nodes.
#[derive(Debug, Clone)]
pub struct Probe {
    values: DVector<f64>,
    sources: usize,
}

impl Probe {
    /// Volts between two nodes per ampere, ohm.
    #[must_use]
    pub fn between(&self, red: usize, black: usize) -> f64 {
        let at = |node: usize| self.values.get(node).copied().unwrap_or(0.0);
        at(red) - at(black)
    }

    /// Current through the n-th voltage source per ampere, from plus through the source to minus.
    #[must_use]
    pub fn source_amps(&self, n: usize) -> f64 {
        self.values.get(self.sources + n).copied().unwrap_or(0.0)
    }
}

impl Element {
    const fn has_branch(&self) -> bool {
        matches!(self, Self::Volts { .. } | Self::Follower { .. } | Self::Pulsed { .. })
    }

    const fn ends(&self) -> Option<(usize, usize)> {
        match *self {
            Self::Resistor { a, b, .. } => Some((a, b)),
            Self::Volts { plus, minus, .. }
            | Self::Follower { plus, minus, .. }
            | Self::Pulsed { plus, minus, .. } => Some((plus, minus)),
            Self::Amps { .. } => None,
        }
    }

    fn stamp(&self, matrix: &mut DMatrix<f64>, right: &mut DVector<f64>, branch: usize) {
        match *self {
            Self::Resistor { a, b, ohms } => {
                let siemens = 1.0 / ohms;
                add(matrix, a, a, siemens);
                add(matrix, b, b, siemens);
                add(matrix, a, b, -siemens);
                add(matrix, b, a, -siemens);
            }
            Self::Volts { plus, minus, volts } => {
                stamp_branch(matrix, plus, minus, branch);
                add_right(right, branch, volts);
            }
            Self::Follower { plus, minus, of_plus, of_minus, gain } => {
                stamp_branch(matrix, plus, minus, branch);
                add(matrix, branch, of_plus, -gain);
                add(matrix, branch, of_minus, gain);
            }
            Self::Pulsed { plus, minus, of_plus, of_minus, gain, ohms } => {
                stamp_branch(matrix, plus, minus, branch);
                for (node, share) in [(of_plus, -gain), (of_minus, gain)] {
                    add(matrix, branch, node, share);
                    add(matrix, node, branch, share);
                }
                add(matrix, branch, branch, -ohms);
            }
            Self::Amps { from, to, amps } => {
                add_right(right, from, -amps);
                add_right(right, to, amps);
            }
        }
    }
}

fn stamp_branch(matrix: &mut DMatrix<f64>, plus: usize, minus: usize, branch: usize) {
    add(matrix, plus, branch, 1.0);
    add(matrix, minus, branch, -1.0);
    add(matrix, branch, plus, 1.0);
    add(matrix, branch, minus, -1.0);
}

fn add(matrix: &mut DMatrix<f64>, row: usize, column: usize, value: f64) {
    if let Some(entry) = matrix.get_mut((row, column)) {
        *entry += value;
    }
}

fn add_right(right: &mut DVector<f64>, row: usize, value: f64) {
    if let Some(entry) = right.get_mut(row) {
        *entry += value;
    }
}

/// Sets of nodes joined by elements. Each set has one pinned node at 0 V, so that the matrix stays regular.
#[derive(Debug, Clone)]
struct Islands {
    root: Vec<usize>,
}

impl Islands {
    fn of(nodes: usize, elements: &[Element]) -> Self {
        let mut islands = Self { root: (0..nodes).collect() };
        for (a, b) in elements.iter().filter_map(Element::ends) {
            islands.join(a, b);
        }
        islands
    }

    /// The lower number becomes the root, so that node 0 is always its island's pin.
    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.root_of(a), self.root_of(b));
        let (keep, give) = (a.min(b), a.max(b));
        for root in self.root.iter_mut().filter(|root| **root == give) {
            *root = keep;
        }
    }

    fn root_of(&self, node: usize) -> usize {
        self.root.get(node).copied().unwrap_or(node)
    }

    fn together(&self, a: usize, b: usize) -> bool {
        a < self.root.len() && b < self.root.len() && self.root_of(a) == self.root_of(b)
    }

    fn is_pin(&self, node: usize) -> bool {
        self.root.get(node) == Some(&node)
    }

    fn pin(&self, matrix: &mut DMatrix<f64>, right: &mut DVector<f64>) {
        for node in (0..self.root.len()).filter(|node| self.is_pin(*node)) {
            for column in 0..matrix.ncols() {
                if let Some(entry) = matrix.get_mut((node, column)) {
                    *entry = if column == node { 1.0 } else { 0.0 };
                }
            }
            if let Some(entry) = right.get_mut(node) {
                *entry = 0.0;
            }
        }
    }
}
