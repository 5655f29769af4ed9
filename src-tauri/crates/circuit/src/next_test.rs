//! The test worth doing next: expected information per minute, looked one step further for the best few.

use crate::diagnosis::{NextTest, Options};
use crate::forecast::{Active, Forecast, Particle, entropy};
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
    forecasts: Vec<&'c Forecast>,
    pub weights: Vec<f64>,
    /// A group per part that is still in play; the last stands for the unmodelled.
    labels: Vec<usize>,
    mis_probe: f64,
    cents_per_minute: Option<f64>,
}

impl<'c, 'a, 't> Choice<'c, 'a, 't> {
    pub fn new(
        model: &'c Model<'a>,
        offered: &'c [Candidate<'t>],
        forecasts: Vec<&'c Forecast>,
        posterior: &Posterior,
        particles: &[Particle],
        options: &Options,
    ) -> Self {
        let parts = part_labels(model);
        let part = |particle: &Particle| {
            let part = model.causes.get(particle.cause).map_or(0, |cause| cause.part);
            parts.get(part).copied().unwrap_or(0)
        };
        let mut known: Vec<usize> = particles.iter().map(part).collect();
        known.sort_unstable();
        known.dedup();
        let label = |particle: &Particle| known.binary_search(&part(particle)).unwrap_or(0);
        Self {
            model,
            offered,
            forecasts,
            weights: particles.iter().map(|particle| particle.weight).chain([posterior.unmodelled]).collect(),
            labels: particles.iter().map(label).chain([known.len()]).collect(),
            mis_probe: options.mis_probe,
            cents_per_minute: options.bench_cents_per_hour.map(|cents| cents / 60.0),
        }
    }

    /// Best tests first.
    pub fn best(&self, how_many: usize) -> Vec<NextTest> {
        let active = self.active(&self.weights);
        let mut rates: Vec<(usize, f64, f64)> = self
            .offered
            .iter()
            .zip(&self.forecasts)
            .enumerate()
            .map(|(i, (candidate, forecast))| {
                let bits = self.gain(forecast, &active);
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

    /// The best few tests, each with its minutes and what every outcome leaves.
    pub fn leading_steps(&self) -> Vec<Tried> {
        let active = self.active(&self.weights);
        let mut rates: Vec<(f64, &Candidate<'_>, &Forecast)> = self
            .offered
            .iter()
            .zip(&self.forecasts)
            .map(|(candidate, forecast)| (self.gain(forecast, &active), candidate, *forecast))
            .filter(|(bits, ..)| *bits > NOTHING)
            .map(|(bits, candidate, forecast)| (bits / candidate.test.minutes, candidate, forecast))
            .collect();
        rates.sort_by(|left, right| right.0.total_cmp(&left.0));
        let step = |(_, candidate, forecast): (f64, &Candidate<'_>, &Forecast)| {
            let mut outcomes = forecast.outcomes(&self.weights);
            outcomes.sort_by(|left, right| right.0.total_cmp(&left.0));
            outcomes.truncate(OUTCOMES);
            Tried { test: candidate.test.id.clone(), minutes: candidate.test.minutes, outcomes }
        };
        rates.into_iter().take(LOOKED_INTO).map(step).collect()
    }

    /// Minutes until it is decided, at the pace of the best test.
    pub fn minutes_left(&self, weights: &[f64]) -> f64 {
        let Some(unknown) = self.unknown(weights) else { return 0.0 };
        unknown / self.best_after(weights, usize::MAX).pace().max(SLOWEST)
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
        let expected_minutes = self.unknown(&self.weights).unwrap_or(0.0) / pace.max(SLOWEST);
        Some(NextTest {
            test: candidate.test.id.clone(),
            gain_bits: bits,
            minutes: candidate.test.minutes,
            per_minute: rate,
            expected_minutes,
            expected_cents: self.cents_per_minute.map(|cents| cents * expected_minutes),
            cautions: candidate.test.cautions.clone(),
            healthy,
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
        let active = self.active(weights);
        if unknown(&active).is_none() {
            return nothing;
        }
        let others = self.offered.iter().zip(&self.forecasts).enumerate().filter(|(i, _)| *i != but);
        let steps = others.map(|(_, (candidate, forecast))| Step {
            bits: self.gain(forecast, &active),
            minutes: candidate.test.minutes,
        });
        let better = |left: Step, right: Step| if right.pace() > left.pace() { right } else { left };
        steps.fold(nothing, better)
    }

    fn unknown(&self, weights: &[f64]) -> Option<f64> {
        unknown(&self.active(weights))
    }

    fn active(&self, weights: &[f64]) -> Active {
        Active::of(weights, &self.labels)
    }

    fn gain(&self, forecast: &Forecast, active: &Active) -> f64 {
        forecast.gain(active, self.mis_probe)
    }
}

/// Bits still unknown about the part; nothing when it is decided.
fn unknown(active: &Active) -> Option<f64> {
    let total: f64 = active.shares.iter().sum();
    let decided = total <= 0.0 || active.shares.iter().any(|share| share / total >= DECIDED);
    if decided { None } else { Some(entropy(&active.shares, total)) }
}

/// A test as if it were done.
pub(crate) struct Tried {
    pub test: String,
    pub minutes: f64,
    /// Chance of each outcome with the weights it leaves, most probable first.
    pub outcomes: Vec<(f64, Vec<f64>)>,
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
