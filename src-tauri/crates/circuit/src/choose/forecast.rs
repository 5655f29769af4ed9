//! What each test would show under each surviving hypothesis, and how much that tells.

use crate::answer::overturn::PossibleResult;
use crate::choose::particles::Particle;
use crate::file::observation::MeasureMode;
use crate::file::procedure::{Question, Test};
use crate::predict::model::Model;
use crate::predict::reading::Predicted;
use crate::weigh::belief::{Belief, Sway};
use crate::weigh::likelihood::Scale;
use crate::weigh::rows::Rows;

/// Five points stand for a normal distribution: distance in σ, weight (symmetric, variance 1).
const SCATTERED: [(f64, f64); 5] = [(-1.8, 0.11), (-0.8, 0.22), (0.0, 0.34), (0.8, 0.22), (1.8, 0.11)];
/// Particles below this share don't count in a choice of tests.
const COUNTS: f64 = 3e-4;
/// Width of a bin in standard deviations of the meter.
const BIN_SIGMAS: f64 = 2.0;

/// What decides how a reading would come out, besides the cause.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Outlook<'o, 'a> {
    pub model: &'o Model<'a>,
    pub rows: &'o Rows,
    pub scale: Scale<'o>,
    /// What readings share, as known so far.
    pub belief: Belief,
}

/// What a particle would show without error.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Mark {
    /// Readings first, then over-limit, anything, no and yes.
    sort: u8,
    value: f64,
    sigma: f64,
}

impl Mark {
    const fn plain(sort: u8) -> Self {
        Self { sort, value: 0.0, sigma: 0.0 }
    }

    pub fn order(&self, other: &Self) -> std::cmp::Ordering {
        self.sort.cmp(&other.sort).then(self.value.total_cmp(&other.value))
    }

    /// Would the two outcomes be told apart, being so many standard deviations of both asunder?
    pub fn told_apart(&self, other: &Self, sigmas: f64) -> bool {
        self.sort != other.sort || (self.value - other.value).abs() > sigmas * (self.sigma + other.sigma)
    }
}

/// Outcome distribution of one test for every particle.
#[derive(Debug, Clone)]
pub(crate) struct Forecast {
    pub bins: usize,
    marks: Vec<Mark>,
    /// What each bin holds.
    names: Vec<i64>,
    /// Outcome bins with their chances, particle after particle, and where each particle's end.
    cells: Vec<(usize, f64)>,
    ends: Vec<usize>,
    mode: MeasureMode,
}

/// Outcomes by name, before they are numbered.
struct Draft {
    marks: Vec<Mark>,
    cells: Vec<(i64, f64)>,
    ends: Vec<usize>,
    mode: MeasureMode,
}

/// Particles that still count, with their group.
#[derive(Debug, Clone)]
pub(crate) struct Active {
    entries: Vec<(usize, usize, f64)>,
    groups: usize,
    unmodeled: f64,
    pub shares: Vec<f64>,
}

impl Active {
    /// `weights` has one entry per particle and a last one for the unmodeled; `labels` names their groups.
    pub fn of(weights: &[f64], labels: &[usize]) -> Self {
        let total: f64 = weights.iter().sum();
        let (unmodeled, particles) =
            weights.split_last().map_or((0.0, weights), |(last, rest)| (*last, rest));
        let counts = particles.iter().enumerate().filter(|(_, weight)| **weight > COUNTS * total);
        let mut known: Vec<usize> = Vec::new();
        let mut entries = Vec::with_capacity(particles.len());
        let mut shares = Vec::new();
        for (i, weight) in counts {
            let label = labels.get(i).copied().unwrap_or(0);
            let group = known.iter().position(|known| *known == label).unwrap_or_else(|| {
                known.push(label);
                shares.push(0.0);
                known.len() - 1
            });
            add(&mut shares, group, *weight);
            entries.push((i, group, *weight));
        }
        shares.push(unmodeled);
        Self { entries, groups: shares.len(), unmodeled, shares }
    }
}

impl Forecast {
    pub fn of(outlook: &Outlook<'_, '_>, column: usize, test: &Test, particles: &[Particle]) -> Self {
        let mut draft = Draft {
            marks: Vec::with_capacity(particles.len()),
            cells: Vec::with_capacity(particles.len() * 6),
            ends: Vec::with_capacity(particles.len()),
            mode: test.mode,
        };
        let places = outlook.rows.places(outlook.model, column, 0, test.mode);
        let curves = outlook.model.columns.get(column).map(|column| &column.curves);
        for particle in particles {
            let severity =
                outlook.model.causes.get(particle.cause).map_or(0.0, |cause| cause.severity(particle.u));
            let curve = curves.and_then(|curves| curves.get(particle.cause));
            let predicted = curve.map_or(Predicted::Anything, |curve| curve.at(particle.u, severity));
            match &test.question {
                Some(question) => draft.answers(question, predicted),
                None => draft.readings(outlook, places, predicted),
            }
            draft.ends.push(draft.cells.len());
        }
        draft.numbered()
    }

    fn rows(&self) -> impl Iterator<Item = &[(usize, f64)]> {
        let starts = std::iter::once(0).chain(self.ends.iter().copied());
        starts.zip(&self.ends).map(|(from, to)| self.cells.get(from..*to).unwrap_or_default())
    }

    /// What an outcome bin stands for.
    pub fn shows(&self, scale: Scale<'_>, bin: usize, question: bool) -> Option<PossibleResult> {
        let name = *self.names.get(bin)?;
        if question {
            return Some(if name == 1 { PossibleResult::Yes } else { PossibleResult::No });
        }
        match name {
            OVER_LIMIT => Some(PossibleResult::OverLimit),
            ANYTHING => None,
            // A reading is shared between the bins beside it: a bin stands for half a bin to each side.
            place => {
                let at = |place: f64| Some(reading_at(scale, self.mode, place));
                Some(PossibleResult::Between {
                    from: at(as_place(place) - 0.5),
                    to: at(as_place(place) + 0.5),
                })
            }
        }
    }

    /// Expected information in bits about the group. A mis-probe tells nothing; the unmodeled shows anything.
    pub fn gain(&self, active: &Active, mis_probe: f64) -> f64 {
        let mut table = vec![0.0; active.groups * self.bins];
        for (particle, group, weight) in &active.entries {
            for (bin, chance) in self.row(*particle) {
                add(&mut table, group * self.bins + bin, weight * chance);
            }
        }
        let chance = active.unmodeled / count(self.bins);
        table.iter_mut().rev().take(self.bins).for_each(|cell| *cell += chance);
        let total: f64 = active.shares.iter().sum();
        if total <= 0.0 || self.bins == 0 {
            return 0.0;
        }
        let mut by_bin = vec![0.0; self.bins];
        for row in table.chunks(self.bins) {
            by_bin.iter_mut().zip(row).for_each(|(all, cell)| *all += cell);
        }
        let bits = entropy(&active.shares, total) + entropy(&by_bin, total) - entropy(&table, total);
        (bits * (1.0 - mis_probe)).max(0.0)
    }

    /// What a particle would show without error.
    pub fn mark(&self, particle: usize) -> Option<Mark> {
        self.marks.get(particle).copied()
    }

    fn row(&self, particle: usize) -> &[(usize, f64)] {
        let from = particle.checked_sub(1).map_or(Some(0), |before| self.ends.get(before).copied());
        let range = from.zip(self.ends.get(particle).copied());
        range.and_then(|(from, to)| self.cells.get(from..to)).unwrap_or_default()
    }

    /// Per cause, the chance of each outcome; empty for causes without particles.
    pub fn by_cause(&self, particles: &[Particle], causes: usize) -> Vec<Vec<f64>> {
        let mut all = vec![Vec::new(); causes];
        for (row, particle) in self.rows().zip(particles) {
            let Some(chances) = all.get_mut(particle.cause) else { continue };
            chances.resize(self.bins, 0.0);
            row.iter().for_each(|(bin, chance)| add(chances, *bin, particle.weight * chance));
        }
        for chances in &mut all {
            let total: f64 = chances.iter().sum();
            chances.iter_mut().for_each(|chance| *chance /= total);
        }
        all
    }

    /// For each outcome the weight of every cause that remains after it, and last of the unmodeled.
    pub fn outcomes_by_cause(&self, particles: &[Particle], weights: &[f64], causes: usize) -> Vec<Vec<f64>> {
        let mut all = vec![vec![0.0; causes + 1]; self.bins];
        for ((row, particle), weight) in self.rows().zip(particles).zip(weights) {
            for (bin, chance) in row {
                all.iter_mut()
                    .skip(*bin)
                    .take(1)
                    .for_each(|after| add(after, particle.cause, weight * chance));
            }
        }
        let unmodeled = weights.get(self.ends.len()).copied().unwrap_or(0.0) / count(self.bins);
        all.iter_mut().for_each(|after| add(after, causes, unmodeled));
        all
    }

    /// Chance of each outcome with the weights that remain after it.
    pub fn outcomes(&self, weights: &[f64]) -> Vec<(f64, Vec<f64>)> {
        let mut all = vec![(0.0, vec![0.0; weights.len()]); self.bins];
        for (i, (row, weight)) in self.rows().zip(weights).enumerate() {
            for (bin, chance) in row {
                if let Some((total, after)) = all.get_mut(*bin) {
                    *total += weight * chance;
                    add(after, i, weight * chance);
                }
            }
        }
        let unmodeled = weights.get(self.ends.len()).copied().unwrap_or(0.0) / count(self.bins);
        for (total, after) in &mut all {
            *total += unmodeled;
            add(after, self.ends.len(), unmodeled);
        }
        all
    }
}

impl Draft {
    fn add(&mut self, name: i64, chance: f64) {
        let begin = self.ends.last().copied().unwrap_or(0);
        let own = self.cells.get_mut(begin..).unwrap_or_default();
        match own.iter_mut().find(|(known, _)| *known == name) {
            Some((_, known)) => *known += chance,
            None => self.cells.push((name, chance)),
        }
    }

    fn answers(&mut self, question: &Question, predicted: Predicted) {
        self.marks.push(match predicted {
            Predicted::Value { value, .. } => Mark::plain(if value > 0.5 { 4 } else { 3 }),
            _ => Mark::plain(2),
        });
        let yes = match predicted {
            Predicted::Value { value, .. } if value > 0.5 => 1.0 - question.miss,
            Predicted::Value { .. } => question.false_alarm,
            _ => 0.5,
        };
        self.add(1, yes);
        self.add(0, 1.0 - yes);
    }

    fn readings(
        &mut self,
        outlook: &Outlook<'_, '_>,
        (supply_place, gain_place): (Option<usize>, Option<usize>),
        predicted: Predicted,
    ) {
        match predicted {
            Predicted::OverLimit => {
                self.marks.push(Mark::plain(1));
                self.add(OVER_LIMIT, 1.0);
            }
            Predicted::Anything => {
                self.marks.push(Mark::plain(2));
                self.add(ANYTHING, 1.0);
            }
            Predicted::Value { value, scatter, supply, spread } => {
                let (gain, rest) = outlook.scale.gain_and_rest(0, self.mode, value);
                let (offset, swayed) =
                    outlook.belief.offset(&Sway::of([(supply_place, supply), (gain_place, gain)], spread));
                let alone = |place: Option<usize>, by: f64| if place.is_none() { by * by } else { 0.0 };
                let own =
                    scatter * scatter + rest * rest + alone(supply_place, supply) + alone(gain_place, gain);
                let sigma = (own + swayed).sqrt();
                self.marks.push(Mark { sort: 0, value: value + offset, sigma });
                for (distance, chance) in SCATTERED {
                    let place = place_of(outlook.scale, self.mode, value + offset + distance * sigma);
                    let (low, high) = (place.floor(), place - place.floor());
                    self.add(whole(low), chance * (1.0 - high));
                    self.add(whole(low) + 1, chance * high);
                }
            }
        }
    }

    /// Numbers the outcomes that occur.
    fn numbered(self) -> Forecast {
        let mut names: Vec<i64> = self.cells.iter().map(|(name, _)| *name).collect();
        names.sort_unstable();
        names.dedup();
        let number = |name: &i64| names.binary_search(name).unwrap_or(0);
        let cells = self.cells.iter().map(|(name, chance)| (number(name), *chance)).collect();
        Forecast { bins: names.len(), marks: self.marks, cells, ends: self.ends, mode: self.mode, names }
    }
}

/// Names of outcomes without a place.
const OVER_LIMIT: i64 = i64::MAX;
const ANYTHING: i64 = i64::MIN;

/// Place of a reading on a scale of bins, each two standard deviations of the meter wide, so that they grow with the
/// reading. A reading is shared between the two bins it lies between: like causes then look alike.
fn place_of(scale: Scale<'_>, mode: MeasureMode, reading: f64) -> f64 {
    let (base, slope) = grain(scale, mode);
    let distance = (1.0 + slope * reading.abs() / base).ln() / slope;
    (distance / BIN_SIGMAS).min(1e9).copysign(reading)
}

/// The reading at a place.
fn reading_at(scale: Scale<'_>, mode: MeasureMode, place: f64) -> f64 {
    let (base, slope) = grain(scale, mode);
    let reading = ((place.abs() * BIN_SIGMAS * slope).exp() - 1.0) * base / slope;
    reading.copysign(place)
}

/// Standard deviation at zero, and how it grows with the reading.
fn grain(scale: Scale<'_>, mode: MeasureMode) -> (f64, f64) {
    let base = scale.sigma(0, mode, 0.0).max(1e-9);
    (base, (scale.sigma(0, mode, 1.0) - base).max(1e-9))
}

#[allow(clippy::cast_precision_loss, reason = "places are limited to 1e9")]
const fn as_place(name: i64) -> f64 {
    name as f64
}

#[allow(clippy::cast_possible_truncation, reason = "places are limited to 1e9")]
const fn whole(place: f64) -> i64 {
    place as i64
}

/// Entropy in bits of weights with a given sum.
pub(crate) fn entropy(weights: &[f64], total: f64) -> f64 {
    // −Σ p·log p with p = w / total, so that only weights above zero cost a logarithm.
    let sum: f64 = weights.iter().filter(|weight| **weight > 0.0).map(|weight| weight * weight.ln()).sum();
    let all: f64 = weights.iter().sum();
    (all * total.ln() - sum) / (total * std::f64::consts::LN_2)
}

fn add(list: &mut [f64], place: usize, value: f64) {
    if let Some(entry) = list.get_mut(place) {
        *entry += value;
    }
}

fn count(n: usize) -> f64 {
    f64::from(u32::try_from(n.max(1)).unwrap_or(u32::MAX))
}
