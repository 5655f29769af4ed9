//! The test worth doing next: the one after which the whole search is expected to end soonest.

use crate::answer::next_test::NextTest;
use crate::answer::options::Options;
use crate::choose::forecast::{Active, Forecast};
use crate::choose::offer::Candidate;
use crate::choose::particles::Particle;
use crate::choose::rollout::Rollout;
use crate::predict::cause::Cause;
use crate::predict::model::Model;
use crate::predict::modules::module_of;
use crate::predict::reading::Predicted;
use crate::weigh::posterior::Posterior;

/// Outcomes that are looked at one step further, most probable first.
const OUTCOMES: usize = 8;
/// Tests whose outcomes are looked into for the money.
const LOOKED_INTO: usize = 5;
/// Tests that tell less than this a minute, bits, aren't worth doing: what is left can't be told apart by them.
const NOTHING_A_MINUTE: f64 = 0.005;

/// Tests with their forecasts, on one posterior.
pub(crate) struct Choice<'c, 'a, 't> {
    pub model: &'c Model<'a>,
    /// Those offered now, then those that wait for others.
    tests: Vec<(&'c Candidate<'t>, &'c Forecast, bool)>,
    pub weights: Vec<f64>,
    /// A group per part that is still in play; the last stands for the unmodeled.
    labels: Vec<usize>,
    rollout: Rollout,
    mis_probe: f64,
    cents_per_minute: Option<f64>,
}

impl<'c, 'a, 't> Choice<'c, 'a, 't> {
    pub fn new(
        model: &'c Model<'a>,
        tests: Vec<(&'c Candidate<'t>, &'c Forecast, bool)>,
        posterior: &Posterior,
        particles: &[Particle],
        options: &Options,
    ) -> Self {
        let labels = labels_of(model);
        let own = |particle: &Particle| labels.get(particle.cause).copied().unwrap_or(0);
        let mut known: Vec<usize> = particles.iter().map(own).collect();
        known.sort_unstable();
        known.dedup();
        let label = |particle: &Particle| known.binary_search(&own(particle)).unwrap_or(0);
        let weights: Vec<f64> =
            particles.iter().map(|particle| particle.weight).chain([posterior.unmodeled]).collect();
        let labels: Vec<usize> = particles.iter().map(label).chain([known.len()]).collect();
        Self {
            model,
            rollout: Rollout::new(&tests, &weights, &labels),
            tests,
            weights,
            labels,
            mis_probe: options.mis_probe,
            cents_per_minute: options.bench_cents_per_hour.map(|cents| cents / 60.0),
        }
    }

    /// Best tests first.
    pub fn best(&self, how_many: usize) -> Vec<NextTest> {
        let active = Active::of(&self.weights, &self.labels);
        let worth = self.rollout.worth_trying();
        let mut tests: Vec<NextTest> = self
            .tests
            .iter()
            .enumerate()
            .filter(|(_, (.., offered))| *offered)
            .filter_map(|(i, (candidate, forecast, _))| {
                let bits = forecast.gain(&active, self.mis_probe);
                // Tests that were not played to the end come after those that were.
                let minutes = worth.contains(&i).then(|| self.rollout.minutes_with(i));
                (bits > NOTHING_A_MINUTE * candidate.test.minutes)
                    .then(|| self.next_test(candidate, bits, minutes))
            })
            .collect();
        tests.sort_by(|left, right| {
            let by_end = left.expected_minutes.total_cmp(&right.expected_minutes);
            by_end.then(right.per_minute.total_cmp(&left.per_minute))
        });
        tests.truncate(how_many);
        tests
    }

    fn next_test(&self, candidate: &Candidate<'_>, bits: f64, minutes: Option<f64>) -> NextTest {
        let healthy = candidate.column.and_then(|column| self.model.columns.get(column));
        let healthy = match healthy.map(|column| column.healthy) {
            Some(Predicted::Value { value, .. }) if candidate.test.question.is_none() => Some(value),
            _ => None,
        };
        let expected_minutes =
            minutes.unwrap_or_else(|| candidate.test.minutes + self.rollout.minutes_left());
        NextTest {
            test: candidate.test.id.clone(),
            gain_bits: bits,
            minutes: candidate.test.minutes,
            per_minute: bits / candidate.test.minutes,
            expected_minutes,
            expected_cents: self.cents_per_minute.map(|cents| cents * expected_minutes),
            cautions: candidate.test.cautions.clone(),
            healthy,
        }
    }

    /// The best few tests, each with its minutes and what every outcome leaves.
    pub fn leading_steps(&self) -> Vec<TriedTest> {
        let step = |i: &usize| {
            let (candidate, forecast, _) = self.tests.get(*i).filter(|(.., offered)| *offered)?;
            let mut outcomes = forecast.outcomes(&self.weights);
            outcomes.sort_by(|left, right| right.0.total_cmp(&left.0));
            outcomes.truncate(OUTCOMES);
            Some(TriedTest { test: candidate.test.id.clone(), minutes: candidate.test.minutes, outcomes })
        };
        self.rollout.worth_trying().iter().take(LOOKED_INTO).filter_map(step).collect()
    }

    /// Minutes until it is decided, with these weights of the particles.
    pub fn minutes_left(&self, weights: &[f64]) -> f64 {
        self.rollout.with_weights(weights).minutes_left()
    }
}

/// A test as if it were done.
pub(crate) struct TriedTest {
    pub test: String,
    pub minutes: f64,
    /// Chance of each outcome with the weights it leaves, most probable first.
    pub outcomes: Vec<(f64, Vec<f64>)>,
}

/// One label per cause: that of its part; all that makes a module the cause shares a label, because it is replaced as a
/// whole.
fn labels_of(model: &Model<'_>) -> Vec<usize> {
    let parts = model.wiring.parts.len();
    let modules = &model.wiring.circuit.modules;
    let of = |(number, cause): (usize, &Cause)| {
        let inside = module_of(model, number);
        let module = inside.and_then(|id| modules.iter().position(|module| module.id == id));
        module.map_or(cause.part, |module| parts + module)
    };
    model.causes.iter().enumerate().map(of).collect()
}
