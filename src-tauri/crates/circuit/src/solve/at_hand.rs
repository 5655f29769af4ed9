//! A few factored netlists kept at hand, so that near relatives need no factors of their own.

use std::sync::{Arc, Mutex};

use nalgebra::{DMatrix, DVector};

use crate::error::CircuitError;
use crate::solve::differences::Differences;
use crate::solve::element::Element;
use crate::solve::factored::Factored;
use crate::solve::islands::Islands;
use crate::solve::solved::{Change, Solved, difference};

/// Factored netlists kept at hand.
const AT_HAND: usize = 8;
/// Where a conductance falls, two nearly equal numbers are subtracted; below this share of them too few digits remain.
const ENOUGH_LEFT: f64 = 0.1;

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
        let Ok(mut kept) = self.kept.lock() else { return Ok(Solved::of(Factored::of(nodes, elements)?)) };
        let related = kept.iter().enumerate().find_map(|(i, base)| Some((i, relative(base, elements)?)));
        if let Some((place, solved)) = related {
            if let Some(front) = kept.get_mut(..=place) {
                front.rotate_right(1);
            }
            return Ok(solved);
        }
        let fresh = Factored::of(nodes, elements)?;
        kept.truncate(AT_HAND - 1);
        kept.insert(0, fresh.clone());
        Ok(Solved::of(fresh))
    }
}

/// Solves a relative; nothing when it is too far off, or when digits would be lost.
fn relative(base: &Arc<Factored>, elements: &[Element]) -> Option<Solved> {
    let differences = Differences::between(&base.elements, elements, base.nodes)?;
    if differences.joins_or_parts && Islands::of(base.nodes, elements) != base.islands {
        return None;
    }
    let mut values = base.values.clone();
    for (branch, volts) in &differences.volts {
        values.axpy(*volts, &base.response_of_branch(*branch)?, 1.0);
    }
    for (from, to, amps) in &differences.amps {
        values.axpy(*amps, &*base.response(*to, *from)?, 1.0);
    }
    let change = |(a, b, siemens): &(usize, usize, f64)| {
        Some(Change { a: *a, b: *b, siemens: *siemens, response: base.response(*a, *b)? })
    };
    let changed: Vec<Change> = differences.siemens.iter().map(change).collect::<Option<_>>()?;
    let between = between(&changed)?;
    let mut solved = Solved { values: DVector::zeros(0), factored: base.clone(), changed, between };
    solved.values = solved.corrected(values);
    solved.values.iter().all(|value| value.is_finite()).then_some(solved)
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
