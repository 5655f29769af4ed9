//! What readings share: the battery's volts, the gain of each meter in each mode, and how far the loosest parts of this
//! vehicle lie off the file's values.
//!
//! Each is unknown by some standard deviations, normally distributed; every reading tells something about them, and is
//! judged by what earlier ones told (a Kalman filter: R. E. Kalman, 1960). A reading is either aimed right or a
//! mis-probe, which tells nothing: so the belief is a mixture with a part for each history that still counts.

use crate::solve::part::SPREAD;
use crate::weigh::likelihood::{Term, gauss};

/// Battery volts and gains that are kept apart; further ones count as each reading's own.
pub(crate) const SHARED: usize = 4;
/// Everything that is kept apart.
const ALL: usize = SHARED + SPREAD;
/// Parts below this share of the strongest are dropped.
const FORGOTTEN: f64 = 1e-11;
/// Most parts kept.
const PARTS: usize = 32;
/// A reading swayed less than this share of its own variance tells nothing about what sways it.
const HARDLY: f64 = 1e-9;
/// Share of batteries that lie three times as far from the nominal volts as usual, just charged or cold (judgement).
const FAR_OFF: f64 = 0.1;
const HOW_FAR: f64 = 3.0;

/// By how much the shared unknowns move a reading, per standard deviation: battery volts and gain by their places, then
/// the parts.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Sway {
    named: [(usize, f64); 2],
    spread: [f64; SPREAD],
}

impl Sway {
    pub fn of(named: [(Option<usize>, f64); 2], spread: [f64; SPREAD]) -> Self {
        Self { named: named.map(|(place, by)| place.map_or((0, 0.0), |place| (place, by))), spread }
    }

    fn entries(&self) -> impl Iterator<Item = (usize, f64)> {
        let parts = self.spread.iter().enumerate().map(|(i, by)| (SHARED + i, *by));
        self.named.iter().copied().chain(parts).filter(|(_, by)| *by != 0.0)
    }
}

/// Mean and covariance of the shared unknowns, in standard deviations, with a logarithm of probability.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Belief {
    pub log: f64,
    mean: [f64; ALL],
    covariance: [[f64; ALL]; ALL],
}

impl Belief {
    pub fn new() -> Self {
        let mut covariance = [[0.0; ALL]; ALL];
        for (i, row) in covariance.iter_mut().enumerate() {
            row.iter_mut().skip(i).take(1).for_each(|entry| *entry = 1.0);
        }
        Self { log: 0.0, mean: [0.0; ALL], covariance }
    }

    /// By how much a reading is expected to be off, and the variance of that.
    pub fn offset(&self, sway: &Sway) -> (f64, f64) {
        let (offset, swayed, _) = self.moved(sway);
        (offset, swayed)
    }

    /// The same, and the covariance of the reading with each of the shared unknowns.
    fn moved(&self, sway: &Sway) -> (f64, f64, [f64; ALL]) {
        let mut across = [0.0; ALL];
        // Covariances are symmetric, so rows serve as columns.
        for (place, by) in sway.entries() {
            let row = self.covariance.get(place).into_iter().flatten();
            across.iter_mut().zip(row).for_each(|(entry, covariance)| *entry += by * covariance);
        }
        let at = |list: &[f64; ALL], place: usize| list.get(place).copied().unwrap_or(0.0);
        let sum = |list: &[f64; ALL]| sway.entries().map(|(place, by)| by * at(list, place)).sum();
        (sum(&self.mean), sum(&across), across)
    }

    /// After a reading that lay `off` its expected value, with a total variance.
    fn learn(&mut self, across: &[f64; ALL], off: f64, variance: f64) {
        for ((mean, row), gain) in self.mean.iter_mut().zip(&mut self.covariance).zip(across) {
            let share = gain / variance;
            *mean += share * off;
            for (entry, other) in row.iter_mut().zip(across) {
                *entry -= share * other;
            }
        }
    }

    /// After a reading with this standard deviation of its own, whatever it was.
    pub fn narrow(&mut self, sigma: f64, sway: &Sway) {
        let (_, swayed, across) = self.moved(sway);
        self.learn(&across, 0.0, sigma * sigma + swayed);
    }

    /// Standard deviation of a reading that is among those this belief was narrowed by, as the others leave it: with v
    /// for the variance of what sways it now, taking its own share out again leaves v/(1 − v/σ²) (Sherman and Morrison,
    /// 1950).
    pub fn told_by_others(&self, sigma: f64, sway: &Sway) -> f64 {
        let own = sigma * sigma;
        let rest = own - self.offset(sway).1;
        if rest > 0.0 { own / rest.sqrt() } else { sigma }
    }

    /// Weighted sum, for the belief over everything.
    pub fn average(beliefs: impl Iterator<Item = (f64, Self)>) -> Self {
        let mut all = Self { log: 0.0, mean: [0.0; ALL], covariance: [[0.0; ALL]; ALL] };
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
    aims: Vec<Aim>,
}

/// A reading as one part of the mixture sees it.
#[derive(Debug, Clone, Copy)]
struct Aim {
    off: f64,
    variance: f64,
    across: [f64; ALL],
    /// Logarithm of that part if the lead was where it belongs, and if it wasn't.
    right: f64,
    astray: f64,
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
        match ways {
            [(way, Term::Chance(log))] => self.parts.iter_mut().for_each(|part| part.log += way + log),
            [(way, Term::Reading { mean, sigma, sway })] => {
                self.read(value - mean, *sigma, sway, (1.0 - mis_probe, astray));
                self.parts.iter_mut().for_each(|part| part.log += way);
            }
            _ => self.observe_either(value, ways, mis_probe, astray),
        }
        self.log()
    }

    /// One reading that came about in one way, in place: what hardly counts is never made.
    fn read(&mut self, off: f64, sigma: f64, sway: &Sway, (aimed, astray): (f64, f64)) {
        self.aims.clear();
        let mut top = f64::NEG_INFINITY;
        for part in &self.parts {
            let (offset, swayed, across) = part.moved(sway);
            let (off, variance) = (off - offset, sigma * sigma + swayed);
            let aimed = aimed * gauss(off, variance.sqrt());
            // What nothing sways tells the same either way.
            let alone = swayed <= HARDLY * sigma * sigma;
            let right = part.log + if alone { aimed + astray } else { aimed }.ln();
            let astray = if alone { f64::NEG_INFINITY } else { part.log + astray.ln() };
            top = top.max(right).max(astray);
            self.aims.push(Aim { off, variance, across, right, astray });
        }
        let least = top + FORGOTTEN.ln();
        for (i, aim) in self.aims.iter().enumerate() {
            let Some(part) = self.parts.get_mut(i) else { continue };
            if aim.right < least {
                part.log = aim.astray;
                continue;
            }
            let mut strayed = *part;
            part.log = aim.right;
            if aim.astray > f64::NEG_INFINITY {
                part.learn(&aim.across, aim.off, aim.variance);
            }
            if aim.astray >= least {
                strayed.log = aim.astray;
                self.parts.push(strayed);
            }
        }
        let mut i = 0;
        while let Some(part) = self.parts.get(i) {
            if part.log >= least {
                i += 1;
            } else {
                self.parts.swap_remove(i);
            }
        }
        limit(&mut self.parts);
    }

    fn observe_either(&mut self, value: f64, ways: &[(f64, Term)], mis_probe: f64, astray: f64) {
        self.next.clear();
        for part in &self.parts {
            let mut lost = astray;
            for (way, term) in ways {
                match term {
                    Term::Chance(log) => self.next.push(Belief { log: part.log + way + log, ..*part }),
                    Term::Reading { mean, sigma, sway } => {
                        let (offset, swayed, across) = part.moved(sway);
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
                            learnt.learn(&across, off, variance);
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
    }

    /// Drops what hardly counts.
    fn forget(&mut self) {
        let top = self.next.iter().fold(f64::NEG_INFINITY, |top, part| top.max(part.log));
        let least = top + FORGOTTEN.ln();
        self.next.retain(|part| part.log >= least);
        limit(&mut self.next);
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

fn limit(parts: &mut Vec<Belief>) {
    if parts.len() > PARTS {
        parts.select_nth_unstable_by(PARTS, |left, right| right.log.total_cmp(&left.log));
        parts.truncate(PARTS);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const OWN: f64 = 0.1;

    /// One loose part moves both readings by one unit a standard deviation.
    fn sway() -> Sway {
        let mut spread = [0.0; SPREAD];
        spread[1] = 1.0;
        Sway::of([(None, 0.0), (None, 0.0)], spread)
    }

    /// Two readings through one part: the density of a normal pair with variances 1 + 0.1² and covariance 1, written out
    /// (closed form, any textbook).
    #[test]
    fn readings_through_one_part_are_weighed_as_a_pair() {
        let (left, right) = (0.7, 0.8);
        let mut mixture = Mixture::default();
        mixture.reset(None);
        let term = Term::Reading { mean: 0.0, sigma: OWN, sway: sway() };
        mixture.observe(left, &[(0.0, term)], 1e-12, 1e-30);
        let found = mixture.observe(right, &[(0.0, term)], 1e-12, 1e-30);
        let (variance, covariance) = (1.0 + OWN * OWN, 1.0);
        let determinant: f64 = variance * variance - covariance * covariance;
        let square =
            (variance * (left * left + right * right) - 2.0 * covariance * left * right) / determinant;
        let exact = -0.5 * square - 0.5 * determinant.ln() - std::f64::consts::TAU.ln();
        assert!((found - exact).abs() < 1e-9, "{found} {exact}");
    }

    /// What the other of the two readings leaves: its own variance, and 1 − 1/(1 + 0.1²) of the part's (conditional
    /// variance of a normal pair).
    #[test]
    fn others_narrow_a_reading_as_a_conditional_variance() {
        let mut known = Belief::new();
        known.narrow(OWN, &sway());
        known.narrow(OWN, &sway());
        let exact = (OWN * OWN + 1.0 - 1.0 / (1.0 + OWN * OWN)).sqrt();
        assert!((known.told_by_others(OWN, &sway()) - exact).abs() < 1e-9);
    }
}
