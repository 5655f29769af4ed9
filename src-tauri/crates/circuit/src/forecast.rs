//! What each test would show under each surviving hypothesis, and how much that tells.

use std::collections::BTreeMap;

use crate::likelihood::Scale;
use crate::model::Model;
use crate::observation::MeasureMode;
use crate::posterior::{Hypothesis, Posterior};
use crate::procedure::{Question, Test};
use crate::reading::Predicted;

/// Causes below this share play no part in choosing tests.
pub(crate) const NEGLIGIBLE: f64 = 1e-4;
/// Severity slices of equal posterior per hypothesis.
const SLICES: usize = 8;
/// Five points stand for a normal distribution: distance in σ, weight (symmetric, variance 1).
const SCATTERED: [(f64, f64); 5] = [(-1.8, 0.11), (-0.8, 0.22), (0.0, 0.34), (0.8, 0.22), (1.8, 0.11)];
/// Width of a bin in standard deviations of the meter.
const BIN_SIGMAS: f64 = 2.0;

/// One slice of one hypothesis.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Particle {
    pub cause: usize,
    pub index: usize,
    pub weight: f64,
}

/// Particles of a posterior; the last entry of a weight list stands for the unmodelled.
pub(crate) fn particles_of(posterior: &Posterior) -> Vec<Particle> {
    let mut particles: Vec<Particle> = Vec::new();
    // Steady and coming-and-going variants of a cause follow each other and look the same while the fault shows.
    for variants in posterior.hypotheses.chunk_by(|left, right| left.cause == right.cause) {
        let total: f64 = variants.iter().map(|hypothesis| hypothesis.posterior).sum();
        let Some(first) = variants.first().filter(|_| total > NEGLIGIBLE) else { continue };
        let slice = total / f64::from(u32::try_from(SLICES).unwrap_or(8));
        let (mut filled, last) = (0.0, first.shares.len().saturating_sub(1));
        for index in 0..=last {
            let at =
                |hypothesis: &Hypothesis| hypothesis.posterior * hypothesis.shares.get(index).unwrap_or(&0.0);
            filled += variants.iter().map(at).sum::<f64>();
            if filled >= slice || (index == last && filled > 0.0) {
                particles.push(Particle { cause: first.cause, index, weight: filled });
                filled = 0.0;
            }
        }
    }
    particles
}

/// Outcome distribution of one test for every particle.
#[derive(Debug, Clone)]
pub(crate) struct Forecast {
    pub bins: usize,
    /// Per particle: outcome bin and its chance.
    rows: Vec<Vec<(usize, f64)>>,
}

impl Forecast {
    pub fn of(
        model: &Model<'_>,
        scale: Scale<'_>,
        column: usize,
        test: &Test,
        particles: &[Particle],
    ) -> Self {
        let mut names: BTreeMap<i64, usize> = BTreeMap::new();
        let mut bin = |name: i64| {
            let next = names.len();
            *names.entry(name).or_insert(next)
        };
        let mut rows = Vec::with_capacity(particles.len());
        for particle in particles {
            let severity = model
                .causes
                .get(particle.cause)
                .and_then(|cause| cause.severities.get(particle.index))
                .copied()
                .unwrap_or(0.0);
            let curve = model.columns.get(column).and_then(|column| column.curves.get(particle.cause));
            let predicted = curve.map_or(Predicted::Anything, |curve| curve.at(particle.index, severity));
            let row = match &test.question {
                Some(question) => answers(question, predicted, &mut bin),
                None => readings(scale, test.mode, predicted, &mut bin),
            };
            rows.push(row);
        }
        Self { bins: names.len(), rows }
    }

    /// Expected information in bits about a label of the particles. `weights` has one entry per particle and a last
    /// one for the unmodelled, whose outcome is anything. A mis-probe tells nothing.
    pub fn gain(&self, weights: &[f64], labels: &[usize], groups: usize, mis_probe: f64) -> f64 {
        let mut table = vec![0.0; groups * self.bins.max(1)];
        for ((row, weight), label) in
            self.rows.iter().zip(weights).zip(labels).filter(|((_, w), _)| **w > 0.0)
        {
            for (bin, chance) in row {
                add(&mut table, label * self.bins + bin, weight * chance);
            }
        }
        if let (Some(weight), Some(label)) = (weights.get(self.rows.len()), labels.get(self.rows.len())) {
            let chance = weight / count(self.bins);
            (0..self.bins).for_each(|bin| add(&mut table, label * self.bins + bin, chance));
        }
        let total: f64 = table.iter().sum();
        if total <= 0.0 || self.bins == 0 {
            return 0.0;
        }
        let by_group: Vec<f64> = table.chunks(self.bins).map(|row| row.iter().sum()).collect();
        let by_bin: Vec<f64> =
            (0..self.bins).map(|bin| table.iter().skip(bin).step_by(self.bins).sum()).collect();
        let bits = entropy(&by_group, total) + entropy(&by_bin, total) - entropy(&table, total);
        (bits * (1.0 - mis_probe)).max(0.0)
    }

    /// Per cause, the chance of each outcome; empty for causes without particles.
    pub fn by_cause(&self, particles: &[Particle], causes: usize) -> Vec<Vec<f64>> {
        let mut all = vec![Vec::new(); causes];
        for (row, particle) in self.rows.iter().zip(particles) {
            let Some(chances) = all.get_mut(particle.cause) else { continue };
            chances.resize(self.bins, 0.0);
            row.iter().for_each(|(bin, chance)| add(chances, *bin, particle.weight * chance));
        }
        for chances in &mut all {
            let total: f64 = chances.iter().sum();
            chances.iter_mut().for_each(|chance| *chance /= total);
        }
        all
    }

    /// Chance of each outcome with the weights that remain after it.
    pub fn outcomes(&self, weights: &[f64]) -> Vec<(f64, Vec<f64>)> {
        let mut all = vec![(0.0, vec![0.0; weights.len()]); self.bins];
        for (i, (row, weight)) in self.rows.iter().zip(weights).enumerate() {
            for (bin, chance) in row {
                if let Some((total, after)) = all.get_mut(*bin) {
                    *total += weight * chance;
                    add(after, i, weight * chance);
                }
            }
        }
        let unmodelled = weights.get(self.rows.len()).copied().unwrap_or(0.0) / count(self.bins);
        for (total, after) in &mut all {
            *total += unmodelled;
            add(after, self.rows.len(), unmodelled);
        }
        all
    }
}

fn answers(
    question: &Question,
    predicted: Predicted,
    bin: &mut impl FnMut(i64) -> usize,
) -> Vec<(usize, f64)> {
    let yes = match predicted {
        Predicted::Value { value, .. } if value > 0.5 => 1.0 - question.miss,
        Predicted::Value { .. } => question.false_alarm,
        _ => 0.5,
    };
    vec![(bin(1), yes), (bin(0), 1.0 - yes)]
}

fn readings(
    scale: Scale<'_>,
    mode: MeasureMode,
    predicted: Predicted,
    bin: &mut impl FnMut(i64) -> usize,
) -> Vec<(usize, f64)> {
    match predicted {
        Predicted::OverLimit => vec![(bin(i64::MAX), 1.0)],
        Predicted::Anything => vec![(bin(i64::MIN), 1.0)],
        Predicted::Value { value, scatter } => {
            let sigma = scale.sigma(mode, value).hypot(scatter);
            let cells = |(distance, chance): (f64, f64)| {
                let place = place_of(scale, mode, value + distance * sigma);
                let (low, high) = (place.floor(), place - place.floor());
                [(bin(whole(low)), chance * (1.0 - high)), (bin(whole(low) + 1), chance * high)]
            };
            SCATTERED.into_iter().flat_map(cells).collect()
        }
    }
}

/// Place of a reading on a scale of bins, each two standard deviations of the meter wide, so that they grow with the
/// reading. A reading is shared between the two bins it lies between: like causes then look alike.
fn place_of(scale: Scale<'_>, mode: MeasureMode, reading: f64) -> f64 {
    let base = scale.sigma(mode, 0.0).max(1e-9);
    let slope = (scale.sigma(mode, 1.0) - base).max(1e-9);
    let distance = (1.0 + slope * reading.abs() / base).ln() / slope;
    (distance / BIN_SIGMAS).min(1e9).copysign(reading)
}

#[allow(clippy::cast_possible_truncation, reason = "places are limited to 1e9")]
const fn whole(place: f64) -> i64 {
    place as i64
}

/// Entropy in bits of weights with a given sum.
pub(crate) fn entropy(weights: &[f64], total: f64) -> f64 {
    let shares = weights.iter().map(|weight| weight / total).filter(|share| *share > 0.0);
    -shares.map(|share| share * share.log2()).sum::<f64>()
}

fn add(list: &mut [f64], place: usize, value: f64) {
    if let Some(entry) = list.get_mut(place) {
        *entry += value;
    }
}

fn count(n: usize) -> f64 {
    f64::from(u32::try_from(n.max(1)).unwrap_or(u32::MAX))
}
