//! Elements of a netlist, and what each adds to the equations of modified nodal analysis.
//!
//! Formulation: C.-W. Ho, A. Ruehli, P. Brennan, "The modified nodal approach to network analysis" (1975).

use nalgebra::{DMatrix, DVector};

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
    /// A pulsed drive as its average, behind a resistance: `gain` × the volts between two other nodes less `drop`, and
    /// `gain` × its current taken back from them, so that no energy is made.
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
        /// What its load's freewheel diode takes off the average, volts.
        drop: f64,
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

impl Element {
    pub(crate) const fn has_branch(&self) -> bool {
        matches!(self, Self::Volts { .. } | Self::Follower { .. } | Self::Pulsed { .. })
    }

    pub(crate) const fn ends(&self) -> Option<(usize, usize)> {
        match *self {
            Self::Resistor { a, b, .. } => Some((a, b)),
            Self::Volts { plus, minus, .. }
            | Self::Follower { plus, minus, .. }
            | Self::Pulsed { plus, minus, .. } => Some((plus, minus)),
            Self::Amps { .. } => None,
        }
    }

    pub(crate) fn stamp(&self, matrix: &mut DMatrix<f64>, right: &mut DVector<f64>, branch: usize) {
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
            Self::Pulsed { plus, minus, of_plus, of_minus, gain, ohms, drop } => {
                stamp_branch(matrix, plus, minus, branch);
                add_right(right, branch, -drop);
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
