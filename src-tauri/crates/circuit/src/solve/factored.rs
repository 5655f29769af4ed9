//! A netlist with its factors, and a few of them kept at hand so that near relatives need no new ones.

use std::sync::{Arc, Mutex};

use nalgebra::{DMatrix, DVector, Dyn, LU};

use crate::error::CircuitError;
use crate::solve::differences::Differences;
use crate::solve::islands::Islands;
use crate::solve::netlist::Element;
use crate::solve::solved::{Change, Solved, difference};

/// Factored netlists kept at hand.
const AT_HAND: usize = 8;
/// Where a conductance falls, two nearly equal numbers are subtracted; below this share of them too few digits remain.
const ENOUGH_LEFT: f64 = 0.1;

/// A netlist with its factors.
#[derive(Debug)]
pub(crate) struct Factored {
    pub nodes: usize,
    pub elements: Vec<Element>,
    pub islands: Islands,
    values: DVector<f64>,
    factors: LU<f64, Dyn, Dyn>,
    responses: Mutex<Vec<Known>>,
}

/// A response that was asked for before.
#[derive(Debug)]
struct Known {
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

    pub fn solved(self: Arc<Self>) -> Solved {
        let values = self.values.clone();
        Solved { values, factored: self, changed: Vec::new(), between: DMatrix::zeros(0, 0) }
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
        known.push(Known { nodes: (plus, minus), values: values.clone() });
        Some(values)
    }

    /// What one volt more of the source on a branch does.
    fn response_of_branch(&self, branch: usize) -> Option<DVector<f64>> {
        let mut right = DVector::<f64>::zeros(self.values.len());
        *right.get_mut(branch)? = 1.0;
        self.factors.solve(&right)
    }

    /// Solves a relative; nothing when it is too far off, or when digits would be lost.
    fn relative(self: &Arc<Self>, elements: &[Element]) -> Option<Solved> {
        let differences = Differences::between(&self.elements, elements, self.nodes)?;
        if differences.joins_or_parts && Islands::of(self.nodes, elements) != self.islands {
            return None;
        }
        let mut values = self.values.clone();
        for (branch, volts) in &differences.volts {
            values.axpy(*volts, &self.response_of_branch(*branch)?, 1.0);
        }
        for (from, to, amps) in &differences.amps {
            values.axpy(*amps, &*self.response(*to, *from)?, 1.0);
        }
        let change = |(a, b, siemens): &(usize, usize, f64)| {
            Some(Change { a: *a, b: *b, siemens: *siemens, response: self.response(*a, *b)? })
        };
        let changed: Vec<Change> = differences.siemens.iter().map(change).collect::<Option<_>>()?;
        let between = between(&changed)?;
        let mut solved = Solved { values: DVector::zeros(0), factored: self.clone(), changed, between };
        solved.values = solved.corrected(values);
        solved.values.iter().all(|value| value.is_finite()).then_some(solved)
    }
}

/// Inverse of D⁻¹ + UᵀA⁻¹U, with U the changed resistors' ends; nothing where digits would be lost.
fn between(changed: &[Change]) -> Option<DMatrix<f64>> {
    let count = changed.len();
    let mut matrix = DMatrix::<f64>::zeros(count, count);
    for (row, left) in changed.iter().enumerate() {
        for (column, right) in changed.iter().enumerate() {
            let ohms = difference(&right.response, left.a, left.b);
            let own = if row == column { left.siemens.recip() } else { 0.0 };
            let left_over = (own + ohms).abs() >= ENOUGH_LEFT * own.abs();
            if row == column && !left_over {
                return None;
            }
            *matrix.get_mut((row, column))? = own + ohms;
        }
    }
    match count {
        0 => Some(matrix),
        1 => Some(matrix.map(f64::recip)),
        // Two changes that all but cancel each other can't be seen from the diagonal alone.
        _ => {
            let scale: f64 = matrix.diagonal().iter().map(|entry| entry.abs()).product();
            (matrix.determinant().abs() >= ENOUGH_LEFT * scale).then(|| matrix.try_inverse())?
        }
    }
}

/// Factored netlists of one state, the latest used first.
#[derive(Debug, Default)]
pub(crate) struct AtHand {
    kept: Mutex<Vec<Arc<Factored>>>,
}

impl Clone for AtHand {
    /// A copy begins with nothing at hand: it is made to be changed.
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl AtHand {
    /// Begins with nothing at hand: by way of another relative, the last digits come out otherwise.
    pub fn clear(&self) {
        if let Ok(mut kept) = self.kept.lock() {
            kept.clear();
        }
    }

    /// Solves elements, by way of a relative where there is one.
    pub fn solve(&self, nodes: usize, elements: &[Element]) -> Result<Solved, CircuitError> {
        let Ok(mut kept) = self.kept.lock() else { return Ok(Factored::of(nodes, elements)?.solved()) };
        let related = kept.iter().enumerate().find_map(|(i, base)| Some((i, base.relative(elements)?)));
        if let Some((place, solved)) = related {
            if let Some(front) = kept.get_mut(..=place) {
                front.rotate_right(1);
            }
            return Ok(solved);
        }
        let fresh = Factored::of(nodes, elements)?;
        kept.truncate(AT_HAND - 1);
        kept.insert(0, fresh.clone());
        Ok(fresh.solved())
    }
}

#[cfg(test)]
mod tests {
    use crate::predict::cause::causes_of;
    use crate::solve::settle::settle;
    use crate::solve::solved::solve_elements;
    use crate::solve::wiring::Wiring;

    /// By way of a relative or factored anew: the same volts, and the same response between any two nodes.
    #[test]
    fn relatives_equal_fresh_solutions() {
        for circuit in crate::library::all().unwrap() {
            let wiring = Wiring::of(&circuit).unwrap();
            let causes = causes_of(&wiring);
            for test in &circuit.tests {
                let setting = wiring.setting(&test.state, test.load.as_deref()).unwrap();
                for (cause, u) in
                    causes.iter().flat_map(|cause| cause.solved_at().into_iter().map(move |u| (cause, u)))
                {
                    let faults = [cause.failing(u)];
                    let settled = settle(&wiring, &setting, &faults).unwrap();
                    let elements = wiring.elements(&setting, &faults, &settled.positions);
                    let fresh = solve_elements(wiring.nodes, &elements).unwrap();
                    for node in 1..wiring.nodes {
                        let (ours, exact) = (settled.solved.between(node, 0), fresh.between(node, 0));
                        let what = (&circuit.id, &test.id, &cause.id, u, node);
                        assert_eq!(ours.is_some(), exact.is_some(), "{what:?}");
                        let off = (ours.unwrap_or(0.0) - exact.unwrap_or(0.0)).abs();
                        // Rounding alone: 1e-16 × 200 S (a joint of 5 mohm) / 1e-6 S (a fault of 1 Mohm) × 12.5 V.
                        assert!(off < 1e-6, "{what:?}: off by {off} V");
                        let probes = settled.solved.probe(node, 0).zip(fresh.probe(node, 0));
                        let Some((ours, exact)) = probes else { continue };
                        let (ours, exact) = (ours.between(node, 0), exact.between(node, 0));
                        assert!(
                            (ours - exact).abs() <= 1e-6 * exact.abs() + 1e-9,
                            "{what:?}: {ours} ohm, {exact} ohm"
                        );
                    }
                }
            }
        }
    }
}
