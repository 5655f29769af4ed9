//! Which ways to assign pins are worth weighing. A way's evidence is at most the sum, over all causes and stretches of their
//! severities, of the products of the highest densities its readings reach there: found pin by pin, so that a pin that can't
//! show what was read at it takes all ways with it (branch and bound: A. H. Land and A. G. Doig, 1960).

use std::collections::BTreeMap;

use crate::answer::options::Options;
use crate::error::CircuitError;
use crate::file::observation::{Observation, ObservedValue, Present};
use crate::predict::curve::Curve;
use crate::predict::model::Model;
use crate::predict::reading::Predicted;
use crate::weigh::belief::Belief;
use crate::weigh::likelihood::Scale;
use crate::weigh::pin_out::{InDoubt, PinPlace, Way};
use crate::weigh::prior::Priors;
use crate::weigh::rows::{Row, Rows};
use crate::weigh::states::{Placed, placed};
use crate::weigh::term::Term;

/// Stretches of a cause's severities.
const STRETCHES: u32 = 32;
/// Ways, and causes in a way, that stay this far below the best aren't looked into.
const HOPELESS: f64 = 1e-8;

/// A way that is worth weighing, with what its evidence can't exceed (on a scale common to all).
pub(crate) struct Worthy {
    pub way: Way,
    pub bound: f64,
}

/// Ways to assign the pins that were read at, those that may turn out best first. Columns that they need are added to the
/// model and solved, once for all of them.
///
/// # Errors
/// Observations that can't be weighed; a circuit without solution.
pub(crate) fn worthy(
    model: &mut Model<'_>,
    in_doubt: &InDoubt<'_>,
    observations: &[Observation],
    options: &Options,
) -> Result<Vec<Worthy>, CircuitError> {
    let pins = in_doubt.read_at(observations)?;
    if pins.is_empty() {
        return Ok(vec![Worthy { way: Way { prior: 1.0, ..Way::default() }, bound: 1.0 }]);
    }
    let seen = standing(observations);
    let mut looks = Vec::with_capacity(seen.len());
    for (observation, repeats) in &seen {
        looks.push(Look::of(model, in_doubt, observation, *repeats)?);
    }
    let columns = looks.iter().flat_map(|look| &look.variants).flat_map(|(_, row)| row.columns());
    let complaint = Rows::of(model, &[], &[])?.rows;
    let columns = columns.chain(complaint.iter().flat_map(Row::columns)).map(|(column, _)| column);
    model.fill(columns.collect::<Vec<_>>().into_iter(), |_| true)?;
    let cells = Cells::of(model, options);
    for look in &mut looks {
        look.weigh(model, &cells, options);
    }
    let mut start: Vec<(usize, f64)> = cells.all.iter().map(|cell| cell.prior).enumerate().collect();
    for row in &complaint {
        let factors = cells.factors(model, row, options);
        start.iter_mut().for_each(|(i, weight)| *weight *= factors.get(*i).copied().unwrap_or(0.0));
    }
    let mut search = Search { in_doubt, pins, looks, found: Vec::new(), best: 0.0 };
    let plain: Vec<usize> = search.ready(0).collect();
    let start = search.narrowed(&start, &BTreeMap::new(), &plain);
    let prior = search.prior(&Way::default());
    search.descend(0, &Way { prior: 1.0, ..Way::default() }, &start, prior);
    let (least, mut found) = (search.best * HOPELESS, search.found);
    found.retain(|one| one.bound > least);
    found.sort_by(|left, right| right.bound.total_cmp(&left.bound));
    Ok(found)
}

/// The observations that count, each with how often its like was read: of repeats at one placement the last.
fn standing(observations: &[Observation]) -> Vec<(Observation, usize)> {
    let bare = |seen: &Observation| Observation {
        id: String::new(),
        value: ObservedValue::No,
        placement: 0,
        ..seen.clone()
    };
    let alike = |left: &Observation, right: &Observation| bare(left) == bare(right);
    let mut kept: Vec<&Observation> = Vec::new();
    for seen in observations {
        kept.retain(|other| other.placement != seen.placement || !alike(other, seen));
        kept.push(seen);
    }
    let repeats = |seen: &Observation| kept.iter().filter(|other| alike(other, seen)).count();
    kept.iter().map(|seen| ((*seen).clone(), repeats(seen))).collect()
}

/// One observation with everything its pins may carry.
struct Look {
    pins: [Option<PinPlace>; 2],
    /// What the pins under the red and the black lead carry, with the row it makes.
    variants: Vec<([Option<usize>; 2], Row)>,
    /// For each of them the highest density in every cell, over the highest of all.
    factors: Vec<Vec<f64>>,
}

impl Look {
    fn of(
        model: &mut Model<'_>,
        in_doubt: &InDoubt<'_>,
        observation: &Observation,
        repeats: usize,
    ) -> Result<Self, CircuitError> {
        let pins = in_doubt.pins_of(observation)?;
        let choices = |pin: Option<PinPlace>| match pin.and_then(|(group, _)| in_doubt.groups.get(group)) {
            Some(group) => (0..group.chances.len()).map(Some).collect::<Vec<_>>(),
            None => vec![None],
        };
        let [red, black] = pins;
        let mut variants = Vec::new();
        for on_red in choices(red) {
            for on_black in choices(black) {
                // Two pins of one connector don't carry the same point.
                if on_red == on_black && red.map(|pin| pin.0) == black.map(|pin| pin.0) && red.is_some() {
                    continue;
                }
                let carried = [(red, on_red), (black, on_black)];
                let carried = carried.into_iter().filter_map(|(pin, carried)| pin.zip(carried)).collect();
                let one =
                    in_doubt.assigned(&Way { carried, prior: 1.0 }, std::slice::from_ref(observation))?;
                let places: Vec<Placed> =
                    one.iter().map(|seen| placed(model, seen)).collect::<Result<_, _>>()?;
                let Some(mut row) = Rows::of(model, &one, &places)?.rows.pop() else { continue };
                let many = f64::from(u32::try_from(repeats).unwrap_or(u32::MAX));
                (row.placements, row.same_meter) = (many, many);
                variants.push(([on_red, on_black], row));
            }
        }
        Ok(Self { pins, variants, factors: Vec::new() })
    }

    fn weigh(&mut self, model: &Model<'_>, cells: &Cells, options: &Options) {
        self.factors = self.variants.iter().map(|(_, row)| cells.factors(model, row, options)).collect();
        let top = self.factors.iter().flatten().copied().fold(f64::MIN_POSITIVE, f64::max);
        self.factors.iter_mut().flatten().for_each(|factor| *factor /= top);
    }

    fn factors(&self, carried: &BTreeMap<PinPlace, usize>) -> Option<&Vec<f64>> {
        let wanted = self.pins.map(|pin| pin.and_then(|pin| carried.get(&pin).copied()));
        self.factors.get(self.variants.iter().position(|(carried, _)| *carried == wanted)?)
    }
}

/// A stretch of a cause's severities with its prior probability; no cause for what the circuit doesn't contain.
struct Cell {
    cause: Option<usize>,
    stretch: [f64; 2],
    prior: f64,
}

struct Cells {
    all: Vec<Cell>,
}

impl Cells {
    fn of(model: &Model<'_>, options: &Options) -> Self {
        let priors = Priors::of(model, options);
        let mut all = vec![Cell { cause: None, stretch: [0.0, 1.0], prior: priors.unmodeled }];
        for (number, cause) in model.causes.iter().enumerate() {
            let many = if cause.has_range() { STRETCHES } else { 1 };
            let prior = priors.causes.get(number).copied().unwrap_or(0.0) / f64::from(many);
            for i in 0..many {
                let stretch = [i, i + 1].map(|end| f64::from(end) / f64::from(many));
                all.push(Cell { cause: Some(number), stretch, prior });
            }
        }
        Self { all }
    }

    /// Highest density of a row in every cell.
    fn factors(&self, model: &Model<'_>, row: &Row, options: &Options) -> Vec<f64> {
        let scale = Scale::new(&model.meters, options);
        let highest = |cell: &Cell| {
            let one = |(column, _): (usize, f64)| {
                let Some(column) = model.columns.get(column) else { return 0.0 };
                let Some(number) = cell.cause else { return scale.unmodeled(row, column.healthy).exp() };
                let (Some(cause), Some(curve)) = (model.causes.get(number), column.curves.get(number)) else {
                    return 0.0;
                };
                let faulty = along(scale, row, curve, cell.stretch, |u| cause.severity(u));
                if row.complaint == Present::Yes || cause.comes_and_goes <= 0.0 {
                    return faulty;
                }
                faulty.max(between(scale, row, column.healthy, column.healthy))
            };
            row.columns().map(one).fold(0.0, f64::max)
        };
        self.all.iter().map(highest).collect()
    }
}

/// Highest density of a row along a stretch, whatever moves in it.
fn along(
    scale: Scale<'_>,
    row: &Row,
    curve: &Curve,
    [from, to]: [f64; 2],
    severity: impl Fn(f64) -> f64,
) -> f64 {
    let hair = (to - from) * 1e-6;
    let mut points = vec![from + hair];
    for end in curve.ends().filter(|end| *end > from && *end < to) {
        points.extend([end - hair, end + hair]);
    }
    points.push(to - hair);
    let shown: Vec<Predicted> = points.iter().map(|u| curve.at(*u, severity(*u))).collect();
    shown.windows(2).fold(0.0, |best, pair| match pair {
        [left, right] => best.max(between(scale, row, *left, *right)),
        _ => best,
    })
}

/// Highest density between two predictions.
fn between(scale: Scale<'_>, row: &Row, left: Predicted, right: Predicted) -> f64 {
    let astray = scale.astray(row);
    match (row.value, scale.term(row, left), scale.term(row, right)) {
        (
            ObservedValue::Number(reading),
            Term::Reading { mean: a, sigma: s, sway },
            Term::Reading { mean: b, sigma: t, sway: other },
        ) => {
            let swayed = Belief::new().offset(&sway).1.max(Belief::new().offset(&other).1);
            let (own, wide) = (s.min(t), s.max(t).hypot(swayed.sqrt()));
            let distance = (a.min(b) - reading).max(reading - a.max(b)).max(0.0);
            (-0.5 * (distance / wide).powi(2)).exp() / (own * 2.5) + astray
        }
        (_, Term::Chance(a), Term::Chance(b)) => a.max(b).exp(),
        (_, Term::Chance(log), Term::Reading { sigma, .. })
        | (_, Term::Reading { sigma, .. }, Term::Chance(log)) => log.exp().max(1.0 / (sigma * 2.5) + astray),
        _ => 1.0,
    }
}

struct Search<'s, 'c> {
    in_doubt: &'s InDoubt<'c>,
    pins: Vec<PinPlace>,
    looks: Vec<Look>,
    found: Vec<Worthy>,
    best: f64,
}

impl Search<'_, '_> {
    /// The observations whose last pin is the one assigned as number `depth`, from 1; those without pins at 0.
    fn ready(&self, depth: usize) -> impl Iterator<Item = usize> + '_ {
        let last = |look: &Look| {
            let place =
                |pin: &PinPlace| self.pins.iter().position(|known| known == pin).map_or(0, |place| place + 1);
            look.pins.iter().flatten().map(place).max().unwrap_or(0)
        };
        self.looks.iter().enumerate().filter(move |(_, look)| last(look) == depth).map(|(i, _)| i)
    }

    /// The cells' weights after these observations; what hardly counts any more is left out.
    fn narrowed(
        &self,
        weights: &[(usize, f64)],
        carried: &BTreeMap<PinPlace, usize>,
        looks: &[usize],
    ) -> Vec<(usize, f64)> {
        let mut next = weights.to_vec();
        for factors in looks.iter().filter_map(|look| self.looks.get(*look)?.factors(carried)) {
            next.iter_mut().for_each(|(i, weight)| *weight *= factors.get(*i).copied().unwrap_or(0.0));
            let top = next.iter().map(|(_, weight)| *weight).fold(0.0, f64::max);
            next.retain(|(_, weight)| *weight > top * HOPELESS);
        }
        next
    }

    /// Probability of a way before any reading, not yet normalized.
    fn prior(&self, way: &Way) -> f64 {
        let of_pins: f64 =
            way.carried.iter().map(|(place, carried)| self.in_doubt.chance(*place, *carried)).product();
        let groups = self.in_doubt.groups.iter().enumerate();
        of_pins * groups.map(|(own, group)| group.rest(own, way)).product::<f64>()
    }

    fn descend(&mut self, depth: usize, way: &Way, weights: &[(usize, f64)], all: f64) {
        let Some(pin) = self.pins.get(depth).copied() else {
            let bound = way.prior * weights.iter().map(|(_, weight)| weight).sum::<f64>();
            self.best = self.best.max(bound);
            self.found.push(Worthy { way: way.clone(), bound });
            return;
        };
        let ready: Vec<usize> = self.ready(depth + 1).collect();
        let many = self.in_doubt.groups.get(pin.0).map_or(0, |group| group.chances.len());
        let mut next = Vec::with_capacity(many);
        for carried in
            (0..many).filter(|j| !way.carried.iter().any(|(place, other)| place.0 == pin.0 && other == j))
        {
            let mut longer = way.clone();
            longer.carried.insert(pin, carried);
            longer.prior = self.prior(&longer) / all;
            let weights = self.narrowed(weights, &longer.carried, &ready);
            let bound = longer.prior * weights.iter().map(|(_, weight)| weight).sum::<f64>();
            next.push((bound, longer, weights));
        }
        // The best first, so that the others are soon seen to be hopeless.
        next.sort_by(|left, right| right.0.total_cmp(&left.0));
        for (bound, longer, weights) in next {
            if bound > self.best * HOPELESS {
                self.descend(depth + 1, &longer, &weights, all);
            }
        }
    }
}
