//! What would change the engine's mind: a test, and the result of it that would overturn a verdict.

use crate::answer::diagnosis::UNMODELED;
use crate::answer::overturn::{Overturn, PossibleResult};
use crate::choose::forecast::Forecast;
use crate::choose::offer::Candidate;
use crate::choose::particles::Particle;
use crate::file::module::Module;
use crate::predict::model::Model;
use crate::weigh::likelihood::Scale;

/// Results named per verdict.
const NAMED: usize = 3;
/// Results rarer than this aren't named.
const RARE: f64 = 0.001;

/// All tests with their forecasts, to look for results that change a verdict.
pub(crate) struct Overturning<'o, 'a> {
    pub model: &'o Model<'a>,
    pub scale: Scale<'o>,
    pub tests: &'o [Candidate<'o>],
    pub forecasts: &'o [Option<Forecast>],
    pub particles: &'o [Particle],
    pub weights: &'o [f64],
    pub cannot_reach: &'o [String],
    /// Least probability of a module that may be called.
    pub call_from: f64,
}

/// One outcome with what it leaves.
struct After {
    chance: f64,
    /// Probability of what the verdict is about.
    probability: f64,
    leading: String,
}

impl Overturning<'_, '_> {
    /// Results after which another cause would lead, and the part that is likelier than not now would be below one half.
    pub fn of_leading(&self, shares: &[f64]) -> Vec<Overturn> {
        let leading = shares.iter().enumerate().max_by(|left, right| left.1.total_cmp(right.1));
        let Some((leading, _)) = leading else { return Vec::new() };
        let Some(cause) = self.model.causes.get(leading) else { return Vec::new() };
        let same_part: Vec<usize> = self
            .model
            .causes
            .iter()
            .enumerate()
            .filter(|(_, other)| other.part == cause.part)
            .map(|(number, _)| number)
            .collect();
        let leads =
            |id: &str| same_part.iter().any(|i| self.model.causes.get(*i).is_some_and(|c| c.id == id));
        self.search(&cause.id, &same_part, &|after| after.probability < 0.5 && !leads(&after.leading))
    }

    /// Results that would carry the module's probability over, or under, what a call needs.
    pub fn of_module(&self, module: &Module, inside: &[usize]) -> Vec<Overturn> {
        let now = self.share_of(inside, self.weights);
        self.search(&module.id, inside, &|after| {
            (after.probability >= self.call_from) != (now >= self.call_from)
        })
    }

    fn search(&self, about: &str, inside: &[usize], overturns: &dyn Fn(&After) -> bool) -> Vec<Overturn> {
        let mut all: Vec<(f64, Overturn)> = Vec::new();
        for (candidate, forecast) in self.tests.iter().zip(self.forecasts) {
            let Some(forecast) = forecast else { continue };
            if self.cannot_reach.contains(&candidate.test.id) {
                continue;
            }
            for found in self.of_test(about, candidate, forecast, inside, overturns) {
                all.push((found.chance / candidate.test.minutes, found));
            }
        }
        all.sort_by(|left, right| right.0.total_cmp(&left.0).then(left.1.test.cmp(&right.1.test)));
        let mut named: Vec<Overturn> = Vec::new();
        for (_, found) in all {
            if named.len() < NAMED && named.iter().all(|known| known.test != found.test) {
                named.push(found);
            }
        }
        named
    }

    fn of_test(
        &self,
        about: &str,
        candidate: &Candidate<'_>,
        forecast: &Forecast,
        inside: &[usize],
        overturns: &dyn Fn(&After) -> bool,
    ) -> Vec<Overturn> {
        let question = candidate.test.question.is_some();
        let mut found: Vec<(Overturn, PossibleResult)> = Vec::new();
        let outcomes = forecast.outcomes_by_cause(self.particles, self.weights, self.model.causes.len());
        for (bin, weights) in outcomes.into_iter().enumerate() {
            let Some(after) = self.after(&weights, inside) else { continue };
            let Some(result) = forecast.shows(self.scale, bin, question).filter(|_| overturns(&after)) else {
                continue;
            };
            let (about, test) = (about.to_owned(), candidate.test.id.clone());
            let (probability_after, leading_after) = (after.probability, after.leading);
            let overturn =
                Overturn { about, test, result, chance: after.chance, probability_after, leading_after };
            found.push((overturn, result));
        }
        join(found)
    }

    /// What an outcome leaves; nothing for a rare one. `weights` has one entry per cause and a last one for the unmodeled.
    fn after(&self, weights: &[f64], inside: &[usize]) -> Option<After> {
        let chance: f64 = weights.iter().sum();
        let (unmodeled, by_cause) = weights.split_last().filter(|_| chance >= RARE / 4.0)?;
        let best = by_cause.iter().enumerate().max_by(|left, right| left.1.total_cmp(right.1));
        let leading = best.filter(|(_, weight)| *weight >= unmodeled);
        let leading = leading.and_then(|(number, _)| self.model.causes.get(number));
        let own: f64 = inside.iter().filter_map(|cause| by_cause.get(*cause)).sum();
        Some(After {
            chance,
            probability: own / chance,
            leading: leading.map_or_else(|| UNMODELED.to_owned(), |cause| cause.id.clone()),
        })
    }

    fn share_of(&self, inside: &[usize], weights: &[f64]) -> f64 {
        let own = self.particles.iter().zip(weights).filter(|(particle, _)| inside.contains(&particle.cause));
        let total: f64 = weights.iter().sum();
        own.map(|(_, weight)| weight).sum::<f64>() / total.max(f64::MIN_POSITIVE)
    }
}

/// Neighboring bins with the same consequence become one range; rare ones are left out.
fn join(mut found: Vec<(Overturn, PossibleResult)>) -> Vec<Overturn> {
    let start = |result: &PossibleResult| match result {
        PossibleResult::Between { from, .. } => from.unwrap_or(f64::NEG_INFINITY),
        _ => f64::INFINITY,
    };
    found.sort_by(|left, right| start(&left.1).total_cmp(&start(&right.1)));
    let mut joined: Vec<Overturn> = Vec::new();
    for (next, _) in found {
        let ends = joined.last().map(|last| (last.result, last.leading_after == next.leading_after));
        match (ends, next.result) {
            (
                Some((PossibleResult::Between { from, to: Some(end) }, true)),
                PossibleResult::Between { from: Some(begin), to },
            ) if (begin - end).abs() < 1e-9 + 1e-6 * begin.abs() => {
                if let Some(last) = joined.last_mut() {
                    let chance = last.chance + next.chance;
                    let weighed = last.probability_after * last.chance + next.probability_after * next.chance;
                    last.probability_after = weighed / chance;
                    (last.chance, last.result) = (chance, PossibleResult::Between { from, to });
                }
            }
            _ => joined.push(next),
        }
    }
    joined.retain(|overturn| overturn.chance >= RARE);
    joined
}
