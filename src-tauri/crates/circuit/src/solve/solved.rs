//! Volts of a solved netlist, and how a near relative of a factored netlist is solved without factoring again.
//!
//! A resistor that changes by Δg adds a matrix of rank one: by the Sherman–Morrison–Woodbury formula (W. W. Hager,
//! "Updating the inverse of a matrix", SIAM Review 31, 1989) one factorisation then serves a whole range of severities.

use std::sync::Arc;

use nalgebra::{DMatrix, DVector};

use crate::error::CircuitError;
use crate::solve::element::Element;
use crate::solve::factored::Factored;

/// Solves elements between nodes `0..nodes`.
pub(crate) fn solve_elements(nodes: usize, elements: &[Element]) -> Result<Solved, CircuitError> {
    Ok(Solved::of(Factored::of(nodes, elements)?))
}

/// Volts of a solved netlist, with its factors for further questions.
#[derive(Debug, Clone)]
pub struct Solved {
    pub(crate) values: DVector<f64>,
    pub(crate) factored: Arc<Factored>,
    /// Changed against the factored netlist.
    pub(crate) changed: Vec<Change>,
    /// Inverse of the small matrix between the changes.
    pub(crate) between: DMatrix<f64>,
}

/// A conductance between two nodes that differs from the factored netlist's, with what one ampere across it does.
#[derive(Debug, Clone)]
pub(crate) struct Change {
    pub a: usize,
    pub b: usize,
    pub siemens: f64,
    pub response: Arc<DVector<f64>>,
}

impl Solved {
    /// The factored netlist as it is.
    pub(crate) fn of(factored: Arc<Factored>) -> Self {
        let values = factored.values.clone();
        Self { values, factored, changed: Vec::new(), between: DMatrix::zeros(0, 0) }
    }

    /// Volts of a node against node 0. Nothing when the node floats: no path leads to node 0.
    #[must_use]
    pub fn volts(&self, node: usize) -> Option<f64> {
        self.values.get(node).copied().filter(|_| self.factored.islands.together(node, 0))
    }

    /// Volts from `black` to `red`; nothing when no path joins them.
    #[must_use]
    pub fn between(&self, red: usize, black: usize) -> Option<f64> {
        let joined = self.factored.islands.together(red, black);
        joined.then(|| self.values.get(red).zip(self.values.get(black)).map(|(red, black)| red - black))?
    }

    /// Current through the n-th voltage source or follower, amperes from plus through the source to minus.
    #[must_use]
    pub fn source_amps(&self, n: usize) -> Option<f64> {
        self.values.get(self.factored.nodes + n).copied()
    }

    /// What one ampere into `red` and out of `black` does, all independent sources at rest: volts between them are
    /// the Thevenin resistance in ohm. Nothing when no path joins them.
    #[must_use]
    pub fn probe(&self, red: usize, black: usize) -> Option<Probe> {
        if !self.factored.islands.together(red, black) {
            return None;
        }
        let response = self.factored.response(red, black)?;
        let values = if self.changed.is_empty() {
            Response::Shared(response)
        } else {
            Response::Own(self.corrected(response.as_ref().clone()))
        };
        Some(Probe { values, sources: self.factored.nodes })
    }

    /// Values of the changed netlist from those of the factored one with the same sources.
    pub(crate) fn corrected(&self, mut values: DVector<f64>) -> DVector<f64> {
        let across = DVector::from_iterator(
            self.changed.len(),
            self.changed.iter().map(|change| difference(&values, change.a, change.b)),
        );
        let amps = &self.between * across;
        for (change, amps) in self.changed.iter().zip(amps.iter()) {
            values.axpy(-amps, &change.response, 1.0);
        }
        values
    }
}

/// Value at one node less the value at another.
pub(crate) fn difference(values: &DVector<f64>, plus: usize, minus: usize) -> f64 {
    let at = |node: usize| values.get(node).copied().unwrap_or(0.0);
    at(plus) - at(minus)
}

/// Response to one ampere between two nodes.
#[derive(Debug, Clone)]
pub struct Probe {
    values: Response,
    sources: usize,
}

#[derive(Debug, Clone)]
enum Response {
    Shared(Arc<DVector<f64>>),
    Own(DVector<f64>),
}

impl Probe {
    /// Volts between two nodes per ampere, ohm.
    #[must_use]
    pub fn between(&self, red: usize, black: usize) -> f64 {
        difference(self.values(), red, black)
    }

    /// Current through the n-th voltage source per ampere, from plus through the source to minus.
    #[must_use]
    pub fn source_amps(&self, n: usize) -> f64 {
        self.values().get(self.sources + n).copied().unwrap_or(0.0)
    }

    fn values(&self) -> &DVector<f64> {
        match &self.values {
            Response::Shared(values) => values,
            Response::Own(values) => values,
        }
    }
}
