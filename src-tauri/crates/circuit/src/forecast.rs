//! What each test would show under each surviving hypothesis, and how much that tells.

use crate::likelihood::Scale;
use crate::model::Model;
use crate::observation::MeasureMode;
use crate::posterior::Posterior;
use crate::procedure::{Question, Test};
use crate::reading::Predicted;

/// Causes below this share play no part in choosing tests.
const NEGLIGIBLE: f64 = 1e-4;
/// Severity slices of equal posterior per hypothesis.
const SLICES: usize = 16;
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
    for hypothesis in posterior.hypotheses.iter().filter(|hypothesis| hypothesis.posterior > NEGLIGIBLE) {
        let slice = 1.0 / f64::from(u32::try_from(SLICES).unwrap_or(16));
        let mut filled = 0.0;
        for (index, share) in hypothesis.shares.iter().enumerate() {
            filled += share;
            let last = index + 1 == hypothesis.shares.len();
            if filled >= slice || (last && filled > 0.0) {
                let weight = hypothesis.posterior * filled;
                particles.push(Particle { cause: hypothesis.cause, index, weight });
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
        let mut names: Vec<i64> = Vec::new();
        let mut bin = |name: i64| {
            names.iter().position(|known| *known == name).unwrap_or_else(|| {
                names.push(name);
                names.len() - 1
            })
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
        for ((row, weight), label) in self.rows.iter().zip(weights).zip(labels) {
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
            let cell = |(distance, chance)| (bin(bin_of(scale, mode, value + distance * sigma)), chance);
            SCATTERED.into_iter().map(cell).collect()
        }
    }
}

/// Number of the bin of a reading: bins are two standard deviations of the meter wide, so they grow with the reading.
fn bin_of(scale: Scale<'_>, mode: MeasureMode, reading: f64) -> i64 {
    let base = scale.sigma(mode, 0.0).max(1e-9);
    let slope = (scale.sigma(mode, 1.0) - base).max(1e-9);
    let distance = (1.0 + slope * reading.abs() / base).ln() / slope;
    let bins = (distance / BIN_SIGMAS).round().min(1e9).copysign(reading);
    #[allow(clippy::cast_possible_truncation, reason = "limited to 1e9 above")]
    let number = bins as i64;
    number
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
