//! The test worth doing next: expected information per minute, looked one step further for the best few.

use crate::diagnosis::{NextTest, Options};
use crate::forecast::{Forecast, Particle, entropy};
use crate::likelihood::Scale;
use crate::model::Model;
use crate::offer::Candidate;
use crate::posterior::Posterior;
use crate::reading::Predicted;

/// Tests that are looked at one step further.
const LOOKED_INTO: usize = 6;
/// Outcomes that are looked at one step further, most probable first.
const OUTCOMES: usize = 10;
/// A search that has come to this share for one part is over.
const DECIDED: f64 = 0.97;
/// Slowest progress that is believed, bits per minute, so that hopeless cases stay finite.
const SLOWEST: f64 = 0.02;
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
        tests.sort_by(|left, right| left.expected_minutes.total_cmp(&right.expected_minutes));
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
        Some(NextTest {
            test: candidate.test.id.clone(),
            gain_bits: bits,
            minutes: candidate.test.minutes,
            per_minute: rate,
            expected_minutes: candidate.test.minutes + self.minutes_after(i),
            cautions: candidate.test.cautions.clone(),
            healthy,
        })
    }

    /// Mean over the outcomes of a test of what is still unknown, divided by the pace of the best test then.
    fn minutes_after(&self, chosen: usize) -> f64 {
        let Some(forecast) = self.forecasts.get(chosen) else { return 0.0 };
        let mut outcomes = forecast.outcomes(&self.weights);
        outcomes.sort_by(|left, right| right.0.total_cmp(&left.0));
        let (mut minutes, mut covered) = (0.0, 0.0);
        for (chance, after) in outcomes.iter().take(OUTCOMES) {
            covered += chance;
            minutes += chance * self.minutes_from(after, chosen);
        }
        if covered > 0.0 { minutes / covered } else { 0.0 }
    }

    fn minutes_from(&self, weights: &[f64], but: usize) -> f64 {
        let mut groups = vec![0.0; self.groups];
        for (weight, label) in weights.iter().zip(&self.labels) {
            if let Some(group) = groups.get_mut(*label) {
                *group += weight;
            }
        }
        let total: f64 = groups.iter().sum();
        if total <= 0.0 || groups.iter().any(|group| group / total >= DECIDED) {
            return 0.0;
        }
        let others = self.offered.iter().zip(&self.forecasts).enumerate().filter(|(i, _)| *i != but);
        let paces =
            others.map(|(_, (candidate, forecast))| self.gain(forecast, weights) / candidate.test.minutes);
        entropy(&groups, total) / paces.fold(SLOWEST, f64::max)
    }

    fn gain(&self, forecast: &Forecast, weights: &[f64]) -> f64 {
        forecast.gain(weights, &self.labels, self.groups, self.mis_probe)
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
