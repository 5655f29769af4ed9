//! A posterior cut into slices, so that what each test would show can be played through.

use crate::weigh::posterior::{Hypothesis, Posterior};

/// Causes below this share play no part in choosing tests.
pub(crate) const NEGLIGIBLE: f64 = 1e-4;
/// Severity slices per hypothesis: fewer where there is less to slice.
const SLICES: [(f64, f64); 3] = [(0.05, 8.0), (0.01, 4.0), (0.0, 2.0)];

/// One slice of one hypothesis.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Particle {
    pub cause: usize,
    pub u: f64,
    pub weight: f64,
}

/// Particles of a posterior; the last entry of a weight list stands for the unmodeled.
pub(crate) fn particles_of(posterior: &Posterior) -> Vec<Particle> {
    let mut particles: Vec<Particle> = Vec::new();
    // Steady and coming-and-going variants of a cause follow each other and look the same while the fault shows.
    for variants in posterior.hypotheses.chunk_by(|left, right| left.cause == right.cause) {
        let total: f64 = variants.iter().map(|hypothesis| hypothesis.posterior).sum();
        if let Some(first) = variants.first().filter(|_| total > NEGLIGIBLE) {
            slice(variants, first.cause, total, &mut particles);
        }
    }
    particles
}

fn slice(variants: &[Hypothesis], cause: usize, total: f64, particles: &mut Vec<Particle>) {
    let mut nodes: Vec<(f64, f64)> = variants
        .iter()
        .flat_map(|hypothesis| {
            hypothesis.nodes.iter().map(|node| (node.u, hypothesis.posterior * node.share))
        })
        .filter(|(_, weight)| *weight > 0.0)
        .collect();
    nodes.sort_by(|left, right| left.0.total_cmp(&right.0));
    let slices = SLICES.iter().find(|(share, _)| total > *share).map_or(1.0, |(_, slices)| *slices);
    let (mut weight, mut moment) = (0.0, 0.0);
    let last = nodes.len().saturating_sub(1);
    for (i, (u, more)) in nodes.into_iter().enumerate() {
        weight += more;
        moment += more * u;
        if weight >= total / slices || i == last {
            particles.push(Particle { cause, u: moment / weight, weight });
            (weight, moment) = (0.0, 0.0);
        }
    }
}
