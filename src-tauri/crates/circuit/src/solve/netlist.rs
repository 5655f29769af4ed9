//! A netlist with names, and its solution: modified nodal analysis with a dense LU.

use std::collections::BTreeMap;

use crate::error::CircuitError;
use crate::solve::element::Element;
use crate::solve::solved::{Solved, solve_elements};

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
