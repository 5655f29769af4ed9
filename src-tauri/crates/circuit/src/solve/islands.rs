//! Which nodes hang together: what floats, and against what.

use nalgebra::{DMatrix, DVector};

use crate::solve::element::Element;

/// Sets of nodes joined by elements. Each set has one pinned node at 0 V, so that the matrix stays regular.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Islands {
    root: Vec<usize>,
}

impl Islands {
    pub fn of(nodes: usize, elements: &[Element]) -> Self {
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

    pub fn together(&self, a: usize, b: usize) -> bool {
        a < self.root.len() && b < self.root.len() && self.root_of(a) == self.root_of(b)
    }

    pub fn is_pin(&self, node: usize) -> bool {
        self.root.get(node) == Some(&node)
    }

    pub fn pin(&self, matrix: &mut DMatrix<f64>, right: &mut DVector<f64>) {
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
