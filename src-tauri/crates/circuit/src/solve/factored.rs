//! A netlist with its factors: what one ampere or one volt more does needs no new ones.

use std::sync::{Arc, Mutex};

use nalgebra::{DMatrix, DVector, Dyn, LU};

use crate::error::CircuitError;
use crate::solve::element::Element;
use crate::solve::islands::Islands;

/// A netlist with its factors.
#[derive(Debug)]
pub(crate) struct Factored {
    pub nodes: usize,
    pub elements: Vec<Element>,
    pub islands: Islands,
    pub values: DVector<f64>,
    factors: LU<f64, Dyn, Dyn>,
    responses: Mutex<Vec<KnownResponse>>,
}

/// A response that was asked for before.
#[derive(Debug)]
struct KnownResponse {
    nodes: (usize, usize),
    values: Arc<DVector<f64>>,
}

impl Factored {
    pub fn of(nodes: usize, elements: &[Element]) -> Result<Arc<Self>, CircuitError> {
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
        let elements = elements.to_vec();
        Ok(Arc::new(Self { nodes, elements, islands, values, factors, responses: Mutex::default() }))
    }

    /// What one ampere into `plus` and out of `minus` does.
    pub fn response(&self, plus: usize, minus: usize) -> Option<Arc<DVector<f64>>> {
        let mut known = self.responses.lock().ok()?;
        if let Some(known) = known.iter().find(|known| known.nodes == (plus, minus)) {
            return Some(known.values.clone());
        }
        let mut right = DVector::<f64>::zeros(self.values.len());
        for (node, amps) in [(plus, 1.0), (minus, -1.0)] {
            if let Some(entry) = right.get_mut(node).filter(|_| !self.islands.is_pin(node)) {
                *entry += amps;
            }
        }
        let values = Arc::new(self.factors.solve(&right)?);
        known.push(KnownResponse { nodes: (plus, minus), values: values.clone() });
        Some(values)
    }

    /// What one volt more of the source on a branch does.
    pub fn response_of_branch(&self, branch: usize) -> Option<DVector<f64>> {
        let mut right = DVector::<f64>::zeros(self.values.len());
        *right.get_mut(branch)? = 1.0;
        self.factors.solve(&right)
    }
}
