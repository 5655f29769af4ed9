//! A row under one prediction, as far as it can be said before anything is known of what readings share.

use std::f64::consts::PI;

use crate::weigh::belief::Sway;

/// A row under one prediction.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Term {
    /// A reading: predicted value, its own σ, and what sways it together with others.
    Reading { mean: f64, sigma: f64, sway: Sway },
    /// Logarithm of a plain probability (density).
    Chance(f64),
}

/// Density of a normal distribution.
pub(crate) fn gauss(distance: f64, sigma: f64) -> f64 {
    // Beyond 12 σ the density is below 1e-31 and drowns in the mis-probe term.
    if distance.abs() > 12.0 * sigma {
        return 0.0;
    }
    (-0.5 * (distance / sigma).powi(2)).exp() / (sigma * (2.0 * PI).sqrt())
}
