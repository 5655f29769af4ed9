//! Which causes no test of the circuit can tell apart.

use crate::choose::forecast::{Forecast, Particle};

/// Causes below this share aren't grouped.
const WORTH_NAMING: f64 = 0.005;
/// Two causes count as separable when the outcomes of one test overlap by less than 1 − this (total variation).
const TOLD_APART: f64 = 0.2;

/// Groups of cause numbers, each with at least two. `shares` holds every cause's probability.
pub(crate) fn groups(forecasts: &[&Forecast], particles: &[Particle], shares: &[f64]) -> Vec<Vec<usize>> {
    let outcomes: Vec<Vec<Vec<f64>>> =
        forecasts.iter().map(|forecast| forecast.by_cause(particles, shares.len())).collect();
    let likely: Vec<usize> = shares
        .iter()
        .enumerate()
        .filter(|(_, share)| **share > WORTH_NAMING)
        .map(|(cause, _)| cause)
        .collect();
    let mut groups: Vec<Vec<usize>> = likely.iter().map(|cause| vec![*cause]).collect();
    for (i, left) in likely.iter().enumerate() {
        for right in likely.iter().skip(i + 1) {
            if !told_apart(&outcomes, *left, *right) {
                join(&mut groups, *left, *right);
            }
        }
    }
    groups.retain(|group| group.len() > 1);
    groups
}

fn told_apart(outcomes: &[Vec<Vec<f64>>], left: usize, right: usize) -> bool {
    outcomes.iter().any(|test| {
        let pair = test.get(left).zip(test.get(right));
        let distance =
            pair.map(|(left, right)| left.iter().zip(right).map(|(left, right)| (left - right).abs()));
        distance.map_or(0.0, Iterator::sum::<f64>) / 2.0 > TOLD_APART
    })
}

fn join(groups: &mut Vec<Vec<usize>>, left: usize, right: usize) {
    let Some(giving) = groups.iter().position(|group| group.contains(&right)) else { return };
    if groups.get(giving).is_some_and(|group| group.contains(&left)) {
        return;
    }
    let given = groups.remove(giving);
    if let Some(keeping) = groups.iter_mut().find(|group| group.contains(&left)) {
        keeping.extend(given);
    }
}
