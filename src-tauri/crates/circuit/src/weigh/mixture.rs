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
    /// Weights of all histories, to find the least that is kept.
    ranked: Vec<f64>,
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
    /// It tells something of what sways readings.
    learns: bool,
}

impl Default for Mixture {
    fn default() -> Self {
        Self {
            most: PARTS,
            log: 0.0,
            parts: Vec::new(),
            next: Vec::new(),
            aims: Vec::new(),
            ranked: Vec::new(),
        }
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

    /// One reading that came about in one way. A belief is large, so it is copied only where both histories count: which of
    /// them do is settled by their weights alone.
    fn read(&mut self, off: f64, sigma: f64, sway: &Sway, (aimed, astray): (f64, f64)) {
        self.aims.clear();
        let (mut top, swayed_by) = (0.0_f64, sway.entries());
        for part in &self.parts {
            let (offset, swayed, across) = part.moved_by(&swayed_by);
            let (off, variance) = (off - offset, sigma * sigma + swayed);
            let aimed = aimed * gauss(off, variance.sqrt());
            // What nothing sways tells the same either way.
            let alone = swayed <= HARDLY * sigma * sigma;
            let (right, astray) = if alone { (aimed + astray, 0.0) } else { (aimed, astray) };
            let (right, astray) = (part.weight * right, part.weight * astray);
            top = top.max(right).max(astray);
            self.aims.push(Aim { off, variance, across, right, astray, learns: !alone });
        }
        let total = self.weigh_histories(top * FORGOTTEN);
        self.log += total.ln();
        if total > 0.0 {
            self.follow_histories(total);
        }
    }

    /// Gives every history that doesn't count a weight of zero, and returns the weight of the rest.
    fn weigh_histories(&mut self, least: f64) -> f64 {
        let (mut total, mut count) = (0.0, 0);
        let weights = self.aims.iter_mut().flat_map(|aim| [&mut aim.right, &mut aim.astray]);
        for weight in weights {
            if *weight < least {
                *weight = 0.0;
            } else if *weight > 0.0 {
                (total, count) = (total + *weight, count + 1);
            }
        }
        if count <= self.most {
            return total;
        }
        self.ranked.clear();
        self.ranked.extend(self.aims.iter().flat_map(|aim| [aim.right, aim.astray]));
        let last = self.most.saturating_sub(1).min(self.ranked.len().saturating_sub(1));
        let (_, least, _) = self.ranked.select_nth_unstable_by(last, |left, right| right.total_cmp(left));
        let least = *least;
        // Of those that weigh the same to the last digit, the first ones stay.
        let mut tied = self.ranked.iter().take(self.most).filter(|weight| **weight == least).count();
        total = 0.0;
        for weight in self.aims.iter_mut().flat_map(|aim| [&mut aim.right, &mut aim.astray]) {
            let stays = *weight > least || (*weight == least && tied > 0);
            if *weight == least {
                tied = tied.saturating_sub(1);
            }
            if stays {
                total += *weight;
            } else {
                *weight = 0.0;
            }
        }
        total
    }

    /// Makes the parts of the histories that count.
    fn follow_histories(&mut self, total: f64) {
        self.next.clear();
        let mut i = 0;
        while let (Some(part), Some(aim)) = (self.parts.get_mut(i), self.aims.get(i)) {
            if aim.right <= 0.0 && aim.astray <= 0.0 {
                self.parts.swap_remove(i);
                self.aims.swap_remove(i);
                continue;
            }
            if aim.right > 0.0 && aim.astray > 0.0 {
                self.next.push(part.weighing(aim.astray / total));
            }
            if aim.right > 0.0 {
                part.weight = aim.right / total;
                if aim.learns {
                    part.learn(&aim.across, aim.off, aim.variance);
                }
            } else {
                part.weight = aim.astray / total;
            }
            i += 1;
        }
        self.parts.append(&mut self.next);
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
