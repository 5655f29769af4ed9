//! What readings share: the battery's volts, the gain of each meter in each mode, and how far the loosest parts of this
//! vehicle lie off the file's values.
//!
//! Each is unknown by some standard deviations, normally distributed; every reading tells something about them, and is
//! judged by what earlier ones told (a Kalman filter: R. E. Kalman, 1960).

use crate::solve::part::SPREAD;

/// Battery volts and gains that are kept apart; further ones count as each reading's own.
pub(crate) const SHARED: usize = 4;
/// Everything that is kept apart.
pub(crate) const ALL: usize = SHARED + SPREAD;

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

    /// Variance that it gives a reading while nothing is known of the shared unknowns.
    pub fn alone(&self) -> f64 {
        let [(first, by), (second, also)] = self.named;
        let named = if first == second { (by + also).powi(2) } else { by * by + also * also };
        named + self.spread.iter().map(|by| by * by).sum::<f64>()
    }

    /// What moves the reading at all, looked up once for all beliefs that it is held against.
    pub fn entries(&self) -> Swayed {
        let mut swayed = Swayed { entries: [(0, 0.0); SPREAD + 2], count: 0 };
        let parts = self.spread.iter().enumerate().map(|(i, by)| (SHARED + i, *by));
        for entry in self.named.iter().copied().chain(parts).filter(|(_, by)| *by != 0.0) {
            if let Some(place) = swayed.entries.get_mut(swayed.count) {
                *place = entry;
                swayed.count += 1;
            }
        }
        swayed
    }
}

/// The shared unknowns that move a reading, each with by how much.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Swayed {
    entries: [(usize, f64); SPREAD + 2],
    count: usize,
}

impl Swayed {
    fn all(&self) -> &[(usize, f64)] {
        self.entries.get(..self.count).unwrap_or_default()
    }
}

/// Mean and covariance of the shared unknowns, in standard deviations, with a weight.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Belief {
    pub weight: f64,
    mean: [f64; ALL],
    covariance: [[f64; ALL]; ALL],
}

impl Belief {
    pub fn new() -> Self {
        let mut covariance = [[0.0; ALL]; ALL];
        for (i, row) in covariance.iter_mut().enumerate() {
            row.iter_mut().skip(i).take(1).for_each(|entry| *entry = 1.0);
        }
        Self { weight: 1.0, mean: [0.0; ALL], covariance }
    }

    /// The same with another weight.
    pub const fn weighing(self, weight: f64) -> Self {
        Self { weight, ..self }
    }

    /// One of the shared unknowns may lie so many times as far off as usual.
    pub fn widen(&mut self, place: usize, times: f64) {
        if let Some(entry) = self.covariance.get_mut(place).and_then(|row| row.get_mut(place)) {
            *entry = times * times;
        }
    }

    /// By how much a reading is expected to be off, and the variance of that.
    pub fn offset(&self, sway: &Sway) -> (f64, f64) {
        let (offset, swayed, _) = self.moved(sway);
        (offset, swayed)
    }

    /// The same, and the covariance of the reading with each of the shared unknowns.
    pub fn moved(&self, sway: &Sway) -> (f64, f64, [f64; ALL]) {
        self.moved_by(&sway.entries())
    }

    /// The same, with what moves the reading looked up already.
    pub fn moved_by(&self, swayed: &Swayed) -> (f64, f64, [f64; ALL]) {
        let mut across = [0.0; ALL];
        let mut offset = 0.0;
        // Covariances are symmetric, so rows serve as columns.
        for (place, by) in swayed.all() {
            if let (Some(row), Some(mean)) = (self.covariance.get(*place), self.mean.get(*place)) {
                across.iter_mut().zip(row).for_each(|(entry, covariance)| *entry += by * covariance);
                offset += by * mean;
            }
        }
        let at = |place: usize| across.get(place).copied().unwrap_or(0.0);
        let variance = swayed.all().iter().map(|(place, by)| by * at(*place)).sum();
        (offset, variance, across)
    }

    /// After a reading that lay `off` its expected value, with a total variance.
    pub fn learn(&mut self, across: &[f64; ALL], off: f64, variance: f64) {
        for ((mean, row), gain) in self.mean.iter_mut().zip(&mut self.covariance).zip(across) {
            let share = gain / variance;
            *mean += share * off;
            for (entry, other) in row.iter_mut().zip(across) {
                *entry -= share * other;
            }
        }
    }

    /// After a reading with this standard deviation of its own, whatever it was. Returns the standard deviation with which
    /// it was expected.
    pub fn narrow(&mut self, sigma: f64, sway: &Sway) -> f64 {
        let (_, swayed, across) = self.moved(sway);
        let variance = sigma * sigma + swayed;
        self.learn(&across, 0.0, variance);
        variance.sqrt()
    }

    /// Standard deviation of a reading that is among those this belief was narrowed by, as the others leave it: with v
    /// for the variance of what sways it now, taking its own share out again leaves v/(1 − v/σ²) (Sherman and Morrison,
    /// 1950).
    pub fn leave_one_out_sigma(&self, sigma: f64, sway: &Sway) -> f64 {
        let own = sigma * sigma;
        let rest = own - self.offset(sway).1;
        if rest > 0.0 { own / rest.sqrt() } else { sigma }
    }

    /// Weighted sum, for the belief over everything.
    pub fn average(beliefs: impl Iterator<Item = (f64, Self)>) -> Self {
        let mut all = Self { weight: 1.0, mean: [0.0; ALL], covariance: [[0.0; ALL]; ALL] };
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

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    pub const OWN: f64 = 0.1;

    /// One loose part moves both readings by one unit a standard deviation.
    pub fn sway() -> Sway {
        let mut spread = [0.0; SPREAD];
        spread[1] = 1.0;
        Sway::of([(None, 0.0), (None, 0.0)], spread)
    }

    /// What the other of the two readings leaves: its own variance, and 1 − 1/(1 + 0.1²) of the part's (conditional
    /// variance of a normal pair).
    #[test]
    fn others_narrow_a_reading_as_a_conditional_variance() {
        let mut known = Belief::new();
        known.narrow(OWN, &sway());
        known.narrow(OWN, &sway());
        let exact = (OWN * OWN + 1.0 - 1.0 / (1.0 + OWN * OWN)).sqrt();
        assert!((known.leave_one_out_sigma(OWN, &sway()) - exact).abs() < 1e-9);
    }
}
