//! Searches played to their end on paper, so that a test is judged by the minutes the whole search takes after it.
//!
//! Every surviving cause at its severities shows what it would show without error; outcomes a meter can tell apart part
//! the set. After the first test (and, for the few best, the second) the rest is played by information per minute: a
//! roll-out (D. Bertsekas, "Rollout algorithms for combinatorial optimization", 1997), which is never worse than the
//! rule it plays by. Answers that may be wrong cost more minutes, by the share of a bit they lose.

use std::cell::RefCell;
use std::collections::HashMap;

use crate::choose::forecast::{Forecast, Mark, entropy};
use crate::choose::offer::Candidate;

/// Most particles that play.
const PLAYERS: usize = 120;
/// Particles below this share don't play.
const COUNTS: f64 = 1e-3;
/// A search that has come to this share for one part is over.
pub(crate) const DECIDED: f64 = 0.97;
/// Readings farther apart than this many standard deviations of both are told apart.
const TOLD_APART: f64 = 2.0;
/// Tests tried at the first and at the second step.
const FIRST: usize = 14;
const SECOND: usize = 3;
/// Less information than this isn't worth a test, bits.
const NOTHING: f64 = 1e-6;

/// A test that may be played.
#[derive(Debug, Clone)]
struct Move {
    minutes: f64,
    /// Bits of the tests that must come first and aren't done yet.
    needs: u64,
    /// Players in the order of what they show, each with what it shows.
    order: Vec<(usize, Mark)>,
}

/// Players and tests.
#[derive(Debug, Clone)]
pub(crate) struct Playing {
    moves: Vec<Move>,
    /// Particle numbers of the players.
    players: Vec<usize>,
    weights: Vec<f64>,
    labels: Vec<usize>,
    known: RefCell<HashMap<(u128, u64, bool), f64>>,
}

/// A move with what it leaves.
struct Tried {
    number: usize,
    pace: f64,
    parts: Vec<(f64, u128)>,
}

impl Playing {
    /// `tests` are those offered now, then those that wait for others; each with its forecast.
    pub fn new(tests: &[(&Candidate<'_>, &Forecast, bool)], weights: &[f64], labels: &[usize]) -> Self {
        let total: f64 = weights.iter().sum();
        let particles = labels.len().saturating_sub(1);
        let mut players: Vec<usize> = (0..particles)
            .filter(|i| weights.get(*i).is_some_and(|weight| *weight > COUNTS * total))
            .collect();
        let weight = |i: &usize| weights.get(*i).copied().unwrap_or(0.0);
        players.sort_by(|left, right| weight(right).total_cmp(&weight(left)));
        players.truncate(PLAYERS);
        let moves = tests.iter().map(|(candidate, forecast, offered)| {
            let needed = candidate.test.requires.iter().filter(|_| !offered);
            let place = |id: &String| tests.iter().position(|(other, ..)| other.test.id == *id);
            let needs = needed.filter_map(|needed| place(&needed.test)).fold(0, |all, i| all | bit(i));
            let marks = players.iter().enumerate();
            let mut order: Vec<(usize, Mark)> =
                marks.filter_map(|(player, i)| Some((player, forecast.mark(*i)?))).collect();
            order.sort_by(|left, right| left.1.order(&right.1));
            Move { minutes: candidate.test.minutes / certainty(candidate), needs, order }
        });
        Self {
            moves: moves.take(64).collect(),
            weights: players.iter().map(weight).collect(),
            labels: players.iter().map(|i| labels.get(*i).copied().unwrap_or(0)).collect(),
            players,
            known: RefCell::default(),
        }
    }

    /// The same search with other weights of the particles.
    pub fn with_weights(&self, weights: &[f64]) -> Self {
        let own: Vec<f64> = self.players.iter().map(|i| weights.get(*i).copied().unwrap_or(0.0)).collect();
        Self { weights: own, known: RefCell::default(), ..self.clone() }
    }

    /// Mean minutes of the search that begins with a test.
    pub fn minutes_with(&self, test: usize) -> f64 {
        let all = self.everyone();
        let Some(played) = self.moves.get(test) else { return 0.0 };
        if self.decided(all) {
            return 0.0;
        }
        played.minutes + self.onwards(&self.parts(played, all), bit(test), true)
    }

    /// The tests worth trying first, by information per minute.
    pub fn worth_trying(&self) -> Vec<usize> {
        self.best_moves(self.everyone(), 0, FIRST).iter().map(|tried| tried.number).collect()
    }

    /// Mean minutes until it is decided, or nothing tells any more.
    pub fn minutes_left(&self) -> f64 {
        self.minutes(self.everyone(), 0, true)
    }

    fn everyone(&self) -> u128 {
        let total: f64 = self.weights.iter().sum();
        let counts = self.weights.iter().enumerate().filter(|(_, weight)| **weight > COUNTS * total);
        counts.fold(0, |all, (i, _)| all | 1 << i)
    }

    fn minutes(&self, set: u128, done: u64, wide: bool) -> f64 {
        if self.decided(set) {
            return 0.0;
        }
        let key = (set, done & self.awaited(), wide);
        if let Some(minutes) = self.known.borrow().get(&key) {
            return *minutes;
        }
        let tried = self.best_moves(set, done, if wide { SECOND } else { 1 });
        let minutes = tried
            .iter()
            .filter_map(|tried| {
                let minutes = self.moves.get(tried.number)?.minutes;
                Some(minutes + self.onwards(&tried.parts, done | bit(tried.number), false))
            })
            .fold(f64::INFINITY, f64::min);
        let minutes = if minutes.is_finite() { minutes } else { 0.0 };
        self.known.borrow_mut().insert(key, minutes);
        minutes
    }

    fn onwards(&self, parts: &[(f64, u128)], done: u64, wide: bool) -> f64 {
        let total: f64 = parts.iter().map(|(weight, _)| weight).sum();
        parts.iter().map(|(weight, part)| weight / total * self.minutes(*part, done, wide)).sum()
    }

    /// Tests something else waits for.
    fn awaited(&self) -> u64 {
        self.moves.iter().fold(0, |all, played| all | played.needs)
    }

    fn best_moves(&self, set: u128, done: u64, many: usize) -> Vec<Tried> {
        let before = self.unknown(set);
        let mut tried: Vec<Tried> = Vec::new();
        for (number, played) in self.moves.iter().enumerate() {
            if played.needs & !done != 0 || done & bit(number) != 0 {
                continue;
            }
            let parts = self.parts(played, set);
            if parts.len() < 2 {
                continue;
            }
            let total: f64 = parts.iter().map(|(weight, _)| weight).sum();
            let after: f64 = parts.iter().map(|(weight, part)| weight / total * self.unknown(*part)).sum();
            if before - after > NOTHING {
                tried.push(Tried { number, pace: (before - after) / played.minutes, parts });
            }
        }
        tried.sort_by(|left, right| right.pace.total_cmp(&left.pace));
        tried.truncate(many);
        tried
    }

    /// Parts of a set that a test tells apart, with their weights.
    fn parts(&self, played: &Move, set: u128) -> Vec<(f64, u128)> {
        let mut parts: Vec<(f64, u128)> = Vec::new();
        let mut before: Option<&Mark> = None;
        for (player, mark) in played.order.iter().filter(|(player, _)| set & (1 << player) != 0) {
            let weight = self.weights.get(*player).copied().unwrap_or(0.0);
            let apart = before.is_none_or(|before| before.told_apart(mark, TOLD_APART));
            match parts.last_mut().filter(|_| !apart) {
                Some((sum, part)) => {
                    *sum += weight;
                    *part |= 1 << player;
                }
                None => parts.push((weight, 1 << player)),
            }
            before = Some(mark);
        }
        parts
    }

    fn by_label(&self, set: u128) -> Vec<(usize, f64)> {
        let mut sums: Vec<(usize, f64)> = Vec::new();
        let here = self.labels.iter().zip(&self.weights).enumerate();
        for (_, (label, weight)) in here.filter(|(i, _)| set & (1 << i) != 0) {
            match sums.iter_mut().find(|(known, _)| known == label) {
                Some((_, sum)) => *sum += weight,
                None => sums.push((*label, *weight)),
            }
        }
        sums
    }

    fn decided(&self, set: u128) -> bool {
        let sums = self.by_label(set);
        let total: f64 = sums.iter().map(|(_, sum)| sum).sum();
        total <= 0.0 || sums.iter().any(|(_, sum)| *sum >= DECIDED * total)
    }

    /// Bits unknown about the part.
    fn unknown(&self, set: u128) -> f64 {
        let sums: Vec<f64> = self.by_label(set).into_iter().map(|(_, sum)| sum).collect();
        let total: f64 = sums.iter().sum();
        if total > 0.0 { entropy(&sums, total) } else { 0.0 }
    }
}

const fn bit(number: usize) -> u64 {
    if number < 64 { 1 << number } else { 0 }
}

/// Share of a bit that an answer carries: the capacity of a channel that is wrong so often.
fn certainty(candidate: &Candidate<'_>) -> f64 {
    candidate.test.question.as_ref().map_or(1.0, |question| {
        let wrong = f64::midpoint(question.miss, question.false_alarm).clamp(1e-9, 0.45);
        1.0 - entropy(&[wrong, 1.0 - wrong], 1.0)
    })
}
