//! What readings share: the battery's volts and the gain of each meter in each mode.
//!
//! Each is unknown by some standard deviations, normally distributed; every reading tells something about them, and is
//! judged by what earlier ones told (a Kalman filter: R. E. Kalman, 1960). A reading is either aimed right or a
//! mis-probe, which tells nothing: so the belief is a mixture with a part for each history that still counts.

use crate::likelihood::{Term, gauss};

/// Most unknowns that are kept apart; further ones count as each reading's own.
pub(crate) const SHARED: usize = 4;
/// Parts below this share of the strongest are dropped.
const FORGOTTEN: f64 = 1e-11;
/// Most parts kept.
const PARTS: usize = 64;
/// A reading swayed less than this share of its own variance tells nothing about what sways it.
const HARDLY: f64 = 1e-9;
/// Share of batteries that lie three times as far from the nominal volts as usual, just charged or cold (judgement).
const FAR_OFF: f64 = 0.1;
const HOW_FAR: f64 = 3.0;

/// By how much up to two shared unknowns move a reading, per standard deviation.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Sway {
    entries: [(usize, f64); 2],
}

impl Sway {
    pub fn of(entries: [(Option<usize>, f64); 2]) -> Self {
        Self { entries: entries.map(|(place, by)| place.map_or((0, 0.0), |place| (place, by))) }
    }
}

/// Mean and covariance of the shared unknowns, in standard deviations, with a logarithm of probability.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Belief {
    pub log: f64,
    mean: [f64; SHARED],
    covariance: [[f64; SHARED]; SHARED],
}

impl Belief {
    pub fn new() -> Self {
        let mut covariance = [[0.0; SHARED]; SHARED];
        for (i, row) in covariance.iter_mut().enumerate() {
            row.iter_mut().skip(i).take(1).for_each(|entry| *entry = 1.0);
        }
        Self { log: 0.0, mean: [0.0; SHARED], covariance }
    }

    /// By how much a reading is expected to be off, and the variance of that.
    pub fn offset(&self, sway: &Sway) -> (f64, f64) {
        let across = self.across(sway);
        let at = |list: &[f64; SHARED], place: usize| list.get(place).copied().unwrap_or(0.0);
        let sum = |list: &[f64; SHARED]| sway.entries.iter().map(|(place, by)| by * at(list, *place)).sum();
        (sum(&self.mean), sum(&across))
    }

    /// Covariance times the sway.
    fn across(&self, sway: &Sway) -> [f64; SHARED] {
        let mut across = [0.0; SHARED];
        for (entry, row) in across.iter_mut().zip(&self.covariance) {
            *entry =
                sway.entries.iter().map(|(place, by)| by * row.get(*place).copied().unwrap_or(0.0)).sum();
        }
        across
    }

    /// After a reading that lay `off` its expected value, with a total variance.
    fn learn(&mut self, sway: &Sway, off: f64, variance: f64) {
        let across = self.across(sway);
        for ((mean, row), gain) in self.mean.iter_mut().zip(&mut self.covariance).zip(across) {
            *mean += gain * off / variance;
            for (entry, other) in row.iter_mut().zip(across) {
                *entry -= gain * other / variance;
            }
        }
    }

    /// Weighted sum, for the belief over everything.
    pub fn average(beliefs: impl Iterator<Item = (f64, Self)>) -> Self {
        let mut all = Self { log: 0.0, mean: [0.0; SHARED], covariance: [[0.0; SHARED]; SHARED] };
        let mut total = 0.0;
        for (weight, belief) in beliefs {
            total += weight;
            for (into, from) in all.mean.iter_mut().zip(belief.mean) {
                *into += weight * from;
            }
            let rows = all.covariance.iter_mut().zip(belief.covariance);
            rows.flat_map(|(into, from)| into.iter_mut().zip(from))
                .for_each(|(into, from)| *into += weight * from);
        }
        if total <= 0.0 {
            return Self::new();
        }
        all.mean.iter_mut().chain(all.covariance.iter_mut().flatten()).for_each(|entry| *entry /= total);
        all
    }
}

/// The mixture, with room that is used again.
#[derive(Debug, Default)]
pub(crate) struct Mixture {
    parts: Vec<Belief>,
    next: Vec<Belief>,
}

impl Mixture {
    /// Begins anew. `supply` is the place of the battery's volts, where they are among what is shared.
    pub fn reset(&mut self, supply: Option<usize>) {
        self.parts.clear();
        let usual = Belief::new();
        self.parts.push(usual);
        if let Some(place) = supply {
            let mut far = usual;
            if let Some(entry) = far.covariance.get_mut(place).and_then(|row| row.get_mut(place)) {
                *entry = HOW_FAR * HOW_FAR;
            }
            far.log = FAR_OFF.ln();
            self.parts.push(far);
            if let Some(first) = self.parts.first_mut() {
                first.log = (1.0 - FAR_OFF).ln();
            }
        }
    }

    /// One observation, with one term for each way it may have come about and the logarithm of that way's chance.
    /// `astray` is the chance (density) of a mis-probe that shows this. Returns the logarithm of everything so far.
    pub fn observe(&mut self, value: f64, ways: &[(f64, Term)], mis_probe: f64, astray: f64) -> f64 {
        self.next.clear();
        for part in &self.parts {
            let mut lost = astray;
            for (way, term) in ways {
                match term {
                    Term::Chance(log) => self.next.push(Belief { log: part.log + way + log, ..*part }),
                    Term::Reading { mean, sigma, sway } => {
                        let (offset, swayed) = part.offset(sway);
                        let variance = sigma * sigma + swayed;
                        let off = value - mean - offset;
                        let aimed = (1.0 - mis_probe) * gauss(off, variance.sqrt());
                        let share = way.exp();
                        if swayed <= HARDLY * sigma * sigma {
                            let log = part.log + (share * (aimed + astray)).ln();
                            lost -= share * astray;
                            self.next.push(Belief { log, ..*part });
                        } else if aimed > 0.0 {
                            let mut learnt = Belief { log: part.log + way + aimed.ln(), ..*part };
                            learnt.learn(sway, off, variance);
                            self.next.push(learnt);
                        }
                    }
                }
            }
            let reads = ways.iter().any(|(_, term)| matches!(term, Term::Reading { .. }));
            let plain: f64 = ways
                .iter()
                .filter(|(_, term)| matches!(term, Term::Chance(_)))
                .map(|(way, _)| way.exp())
                .sum();
            lost -= plain * astray;
            if reads && lost > 1e-12 * astray {
                self.next.push(Belief { log: part.log + lost.ln(), ..*part });
            }
        }
        self.forget();
        std::mem::swap(&mut self.parts, &mut self.next);
        self.log()
    }

    /// Drops what hardly counts.
    fn forget(&mut self) {
        let top = self.next.iter().fold(f64::NEG_INFINITY, |top, part| top.max(part.log));
        let least = top + FORGOTTEN.ln();
        self.next.retain(|part| part.log >= least);
        if self.next.len() > PARTS {
            self.next.sort_by(|left, right| right.log.total_cmp(&left.log));
            self.next.truncate(PARTS);
        }
    }

    pub fn log(&self) -> f64 {
        let top = self.parts.iter().fold(f64::NEG_INFINITY, |top, part| top.max(part.log));
        if top == f64::NEG_INFINITY || self.parts.len() == 1 {
            return top;
        }
        top + self.parts.iter().map(|part| (part.log - top).exp()).sum::<f64>().ln()
    }

    /// The strongest part.
    pub fn top(&self) -> Belief {
        let better = |left: &Belief, right: &Belief| left.log.total_cmp(&right.log);
        self.parts.iter().copied().max_by(better).unwrap_or_else(Belief::new)
    }
}
