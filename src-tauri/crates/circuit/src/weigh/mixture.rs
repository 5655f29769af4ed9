//! The belief as readings come in: each is either aimed right or a mis-probe, which tells nothing, so there is a part for
//! each history that still counts.

use crate::weigh::belief::{ALL, Belief, Sway};
use crate::weigh::term::{Term, gauss};

/// Parts below this share of the strongest are dropped.
const FORGOTTEN: f64 = 1e-8;
/// Most parts kept.
pub(crate) const PARTS: usize = 12;
/// A reading swayed less than this share of its own variance tells nothing about what sways it.
const HARDLY: f64 = 1e-9;
/// Share of batteries that lie three times as far from the nominal volts as usual, just charged or cold (judgment).
const FAR_OFF: f64 = 0.1;
const HOW_FAR: f64 = 3.0;

/// The mixture, with room that is used again.
#[derive(Debug)]
pub(crate) struct Mixture {
    /// Most parts kept.
    most: usize,
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

impl Default for Mixture {
    fn default() -> Self {
        Self { most: PARTS, parts: Vec::new(), next: Vec::new(), aims: Vec::new() }
    }
}

impl Mixture {
    /// Keeps so many parts at most from here on.
    pub const fn keep(&mut self, most: usize) {
        self.most = most;
    }

    /// Begins anew. `supply` is the place of the battery's volts, where they are among what is shared.
    pub fn reset(&mut self, supply: Option<usize>) {
        self.parts.clear();
        let usual = Belief::new();
        self.parts.push(usual);
        if let Some(place) = supply {
            let mut far = usual;
            far.widen(place, HOW_FAR);
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
        limit(&mut self.parts, self.most);
    }

    fn observe_either(&mut self, value: f64, ways: &[(f64, Term)], mis_probe: f64, astray: f64) {
        self.next.clear();
        for part in &self.parts {
            let mut lost = astray;
            for (way, term) in ways {
                match term {
                    Term::Chance(log) => self.next.push(part.with_log(part.log + way + log)),
                    Term::Reading { mean, sigma, sway } => {
                        let (offset, swayed, across) = part.moved(sway);
                        let variance = sigma * sigma + swayed;
                        let off = value - mean - offset;
                        let aimed = (1.0 - mis_probe) * gauss(off, variance.sqrt());
                        let share = way.exp();
                        if swayed <= HARDLY * sigma * sigma {
                            let log = part.log + (share * (aimed + astray)).ln();
                            lost -= share * astray;
                            self.next.push(part.with_log(log));
                        } else if aimed > 0.0 {
                            let mut learned = part.with_log(part.log + way + aimed.ln());
                            learned.learn(&across, off, variance);
                            self.next.push(learned);
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
                self.next.push(part.with_log(part.log + lost.ln()));
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
        limit(&mut self.next, self.most);
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

fn limit(parts: &mut Vec<Belief>, most: usize) {
    if parts.len() > most {
        parts.select_nth_unstable_by(most, |left, right| right.log.total_cmp(&left.log));
        parts.truncate(most);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weigh::belief::tests::{OWN, sway};

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
}
