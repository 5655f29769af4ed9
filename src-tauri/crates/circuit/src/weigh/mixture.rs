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
    /// Logarithm of everything so far: the parts' weights are shares of it.
    log: f64,
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
    /// Weight of that part if the lead was where it belongs, and if it wasn't.
    right: f64,
    astray: f64,
}

impl Default for Mixture {
    fn default() -> Self {
        Self { most: PARTS, log: 0.0, parts: Vec::new(), next: Vec::new(), aims: Vec::new() }
    }
}

impl Mixture {
    /// Keeps so many parts at most from here on.
    pub const fn keep(&mut self, most: usize) {
        self.most = most;
    }

    /// Begins anew. `supply` is the place of the battery's volts, where they are among what is shared.
    pub fn reset(&mut self, supply: Option<usize>) {
        self.log = 0.0;
        self.parts.clear();
        let usual = Belief::new();
        let Some(place) = supply else { return self.parts.push(usual) };
        let mut far = usual.weighing(FAR_OFF);
        far.widen(place, HOW_FAR);
        self.parts.extend([usual.weighing(1.0 - FAR_OFF), far]);
    }

    /// One observation, with one term for each way it may have come about and the logarithm of that way's chance.
    /// `astray` is the chance (density) of a mis-probe that shows this. Returns the logarithm of everything so far.
    pub fn observe(&mut self, value: f64, ways: &[(f64, Term)], mis_probe: f64, astray: f64) -> f64 {
        match ways {
            [(way, Term::Chance(log))] => self.log += way + log,
            [(way, Term::Reading { mean, sigma, sway })] => {
                self.log += way;
                self.read(value - mean, *sigma, sway, (1.0 - mis_probe, astray));
            }
            _ => self.observe_either(value, ways, mis_probe, astray),
        }
        self.log
    }

    /// One reading that came about in one way, in place: what hardly counts is never made.
    fn read(&mut self, off: f64, sigma: f64, sway: &Sway, (aimed, astray): (f64, f64)) {
        self.aims.clear();
        let mut top = 0.0_f64;
        for part in &self.parts {
            let (offset, swayed, across) = part.moved(sway);
            let (off, variance) = (off - offset, sigma * sigma + swayed);
            let aimed = aimed * gauss(off, variance.sqrt());
            // What nothing sways tells the same either way.
            let alone = swayed <= HARDLY * sigma * sigma;
            let (right, astray) = if alone { (aimed + astray, 0.0) } else { (aimed, astray) };
            let (right, astray) = (part.weight * right, part.weight * astray);
            top = top.max(right).max(astray);
            self.aims.push(Aim { off, variance, across, right, astray });
        }
        let least = top * FORGOTTEN;
        for (i, aim) in self.aims.iter().enumerate() {
            let Some(part) = self.parts.get_mut(i) else { continue };
            if aim.right < least {
                part.weight = aim.astray;
                continue;
            }
            let strayed = (aim.astray >= least).then(|| part.weighing(aim.astray));
            part.weight = aim.right;
            if aim.astray > 0.0 {
                part.learn(&aim.across, aim.off, aim.variance);
            }
            self.parts.extend(strayed);
        }
        self.keep_from(least);
    }

    /// Drops what hardly counts, and takes the weight of the rest into the logarithm.
    fn keep_from(&mut self, least: f64) {
        self.parts.retain(|part| part.weight >= least);
        if self.parts.len() > self.most {
            let better = |left: &Belief, right: &Belief| right.weight.total_cmp(&left.weight);
            self.parts.select_nth_unstable_by(self.most, better);
            self.parts.truncate(self.most);
        }
        let total: f64 = self.parts.iter().map(|part| part.weight).sum();
        self.log += total.ln();
        if total > 0.0 {
            self.parts.iter_mut().for_each(|part| part.weight /= total);
        }
    }

    fn observe_either(&mut self, value: f64, ways: &[(f64, Term)], mis_probe: f64, astray: f64) {
        // Ways that tell nothing about what sways readings leave one and the same part, however many they are.
        let chances = ways.iter().filter_map(|(way, term)| match term {
            Term::Chance(log) => Some((way.exp(), (way + log).exp())),
            Term::Reading { .. } => None,
        });
        let (plain, chance) = chances.fold((0.0, 0.0), |sum, (way, all)| (sum.0 + way, sum.1 + all));
        let reads = ways.iter().any(|(_, term)| matches!(term, Term::Reading { .. }));
        if !reads {
            self.log += chance.ln();
            return;
        }
        self.next.clear();
        for part in &self.parts {
            let mut lost = astray - plain * astray;
            if chance > 0.0 {
                self.next.push(part.weighing(part.weight * chance));
            }
            for (way, term) in ways {
                let Term::Reading { mean, sigma, sway } = term else { continue };
                let (offset, swayed, across) = part.moved(sway);
                let variance = sigma * sigma + swayed;
                let off = value - mean - offset;
                let aimed = (1.0 - mis_probe) * gauss(off, variance.sqrt());
                let share = way.exp();
                if swayed <= HARDLY * sigma * sigma {
                    lost -= share * astray;
                    self.next.push(part.weighing(part.weight * share * (aimed + astray)));
                } else if aimed > 0.0 {
                    let mut learned = part.weighing(part.weight * share * aimed);
                    learned.learn(&across, off, variance);
                    self.next.push(learned);
                }
            }
            if lost > 1e-12 * astray {
                self.next.push(part.weighing(part.weight * lost));
            }
        }
        std::mem::swap(&mut self.parts, &mut self.next);
        let top = self.parts.iter().fold(0.0_f64, |top, part| top.max(part.weight));
        self.keep_from(top * FORGOTTEN);
    }

    /// Logarithm of everything so far.
    pub const fn log(&self) -> f64 {
        self.log
    }

    /// The strongest part.
    pub fn top(&self) -> Belief {
        let better = |left: &Belief, right: &Belief| left.weight.total_cmp(&right.weight);
        self.parts.iter().copied().max_by(better).unwrap_or_else(Belief::new)
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
