//! The test worth doing next: expected information per minute, looked one step further for the best few.

use crate::diagnosis::{NextTest, Options};
use crate::forecast::{Forecast, Particle, entropy};
use crate::likelihood::Scale;
use crate::model::Model;
use crate::offer::Candidate;
use crate::posterior::Posterior;
use crate::reading::Predicted;

/// Tests that are looked at one step further.
const LOOKED_INTO: usize = 5;
/// Outcomes that are looked at one step further, most probable first.
const OUTCOMES: usize = 8;
/// A search that has come to this share for one part is over.
const DECIDED: f64 = 0.97;
/// Slowest progress that is believed, bits per minute, so that hopeless cases stay finite.
const SLOWEST: f64 = 0.001;
/// Tests below this tell nothing.
const NOTHING: f64 = 0.003;

/// Offered tests with their forecasts, on one posterior.
pub(crate) struct Choice<'c, 'a, 't> {
    pub model: &'c Model<'a>,
    pub offered: &'c [Candidate<'t>],
    forecasts: Vec<Forecast>,
    weights: Vec<f64>,
    labels: Vec<usize>,
    groups: usize,
    mis_probe: f64,
}

impl<'c, 'a, 't> Choice<'c, 'a, 't> {
    pub fn new(
        model: &'c Model<'a>,
        offered: &'c [Candidate<'t>],
        posterior: &Posterior,
        particles: &[Particle],
        options: &Options,
    ) -> Self {
        let scale = Scale::new(model.meter, options);
        let forecast = |candidate: &Candidate<'_>| {
            Forecast::of(model, scale, candidate.column.unwrap_or(usize::MAX), candidate.test, particles)
        };
        let parts = part_labels(model);
        let groups = parts.iter().max().map_or(0, |top| top + 1);
        let label = |particle: &Particle| {
            let part = model.causes.get(particle.cause).map_or(0, |cause| cause.part);
            parts.get(part).copied().unwrap_or(0)
        };
        Self {
            model,
            offered,
            forecasts: offered.iter().map(forecast).collect(),
            weights: particles.iter().map(|particle| particle.weight).chain([posterior.unmodelled]).collect(),
            labels: particles.iter().map(label).chain([groups]).collect(),
            groups: groups + 1,
            mis_probe: options.mis_probe,
        }
    }

    /// Best tests first.
    pub fn best(&self, how_many: usize) -> Vec<NextTest> {
        let mut rates: Vec<(usize, f64, f64)> = self
            .offered
            .iter()
            .zip(&self.forecasts)
            .enumerate()
            .map(|(i, (candidate, forecast))| {
                let bits = self.gain(forecast, &self.weights);
                (i, bits, bits / candidate.test.minutes)
            })
            .filter(|(_, bits, _)| *bits > NOTHING)
            .collect();
        rates.sort_by(|left, right| right.2.total_cmp(&left.2));
        let mut tests: Vec<NextTest> = rates
            .iter()
            .take(LOOKED_INTO.max(how_many))
            .filter_map(|(i, bits, rate)| self.next_test(*i, *bits, *rate))
            .collect();
        tests.sort_by(|left, right| {
            let by_end = left.expected_minutes.total_cmp(&right.expected_minutes);
            by_end.then(right.per_minute.total_cmp(&left.per_minute))
        });
        tests.truncate(how_many);
        tests
    }

    fn next_test(&self, i: usize, bits: f64, rate: f64) -> Option<NextTest> {
        let candidate = self.offered.get(i)?;
        let healthy = candidate.column.and_then(|column| self.model.columns.get(column));
        let healthy = match healthy.map(|column| column.healthy) {
            Some(Predicted::Value { value, .. }) if candidate.test.question.is_none() => Some(value),
            _ => None,
        };
        let after = self.follow_up(i);
        let pace = (bits + after.bits) / (candidate.test.minutes + after.minutes);
        Some(NextTest {
            test: candidate.test.id.clone(),
            gain_bits: bits,
            minutes: candidate.test.minutes,
            per_minute: rate,
            expected_minutes: self.unknown(&self.weights).unwrap_or(0.0) / pace.max(SLOWEST),
            cautions: candidate.test.cautions.clone(),
            healthy,
            expected_cents: None,
        })
    }

    /// Mean bits and minutes of the best test after each outcome of the chosen one; nothing once it is decided.
    fn follow_up(&self, chosen: usize) -> Step {
        let mut mean = Step { bits: 0.0, minutes: 0.0 };
        let Some(forecast) = self.forecasts.get(chosen) else { return mean };
        let mut outcomes = forecast.outcomes(&self.weights);
        outcomes.sort_by(|left, right| right.0.total_cmp(&left.0));
        let covered: f64 = outcomes.iter().take(OUTCOMES).map(|(chance, _)| chance).sum();
        for (chance, after) in outcomes.iter().take(OUTCOMES) {
            let best = self.best_after(after, chosen);
            mean.bits += chance / covered * best.bits;
            mean.minutes += chance / covered * best.minutes;
        }
        mean
    }

    fn best_after(&self, weights: &[f64], but: usize) -> Step {
        let nothing = Step { bits: 0.0, minutes: 0.0 };
        if self.unknown(weights).is_none() {
            return nothing;
        }
        let others = self.offered.iter().zip(&self.forecasts).enumerate().filter(|(i, _)| *i != but);
        let steps = others.map(|(_, (candidate, forecast))| Step {
            bits: self.gain(forecast, weights),
            minutes: candidate.test.minutes,
        });
        let better = |left: Step, right: Step| if right.pace() > left.pace() { right } else { left };
        steps.fold(nothing, better)
    }

    /// Bits still unknown about the part; nothing when it is decided.
    fn unknown(&self, weights: &[f64]) -> Option<f64> {
        let mut groups = vec![0.0; self.groups];
        for (weight, label) in weights.iter().zip(&self.labels) {
            if let Some(group) = groups.get_mut(*label) {
                *group += weight;
            }
        }
        let total: f64 = groups.iter().sum();
        let decided = total <= 0.0 || groups.iter().any(|group| group / total >= DECIDED);
        if decided { None } else { Some(entropy(&groups, total)) }
    }

    fn gain(&self, forecast: &Forecast, weights: &[f64]) -> f64 {
        forecast.gain(weights, &self.labels, self.groups, self.mis_probe)
    }
}

/// Bits and the minutes they cost.
#[derive(Debug, Clone, Copy)]
struct Step {
    bits: f64,
    minutes: f64,
}

impl Step {
    fn pace(self) -> f64 {
        if self.minutes > 0.0 { self.bits / self.minutes } else { 0.0 }
    }
}

/// One label per part; all parts inside one module share a label, because they are replaced together.
fn part_labels(model: &Model<'_>) -> Vec<usize> {
    let parts = model.wiring.parts.len();
    let modules = &model.wiring.circuit.modules;
    let of = |(i, part): (usize, &crate::wiring::Part<'_>)| {
        let module = modules.iter().position(|module| module.components.contains(&part.component.id));
        module.map_or(i, |module| parts + module)
    };
    model.wiring.parts.iter().enumerate().map(of).collect()
}
