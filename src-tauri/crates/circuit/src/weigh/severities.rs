//! Integration over a cause's severities, fine where the likelihood moves and coarse where it doesn't.
//!
//! Every stretch between two points where something moves is halved until no reading's prediction, near what was
//! read, moves by more than a standard deviation in it; each stretch is then summed at two points (Gauss–Legendre).

use crate::file::observation::{ObservedValue, Present};
use crate::predict::cause::Cause;
use crate::predict::curve::Curve;
use crate::predict::reading::Predicted;
use crate::weigh::belief::Belief;
use crate::weigh::likelihood::{FITS_WITHIN, Fit, Scale, plain_fit};
use crate::weigh::mixture::{Mixture, PARTS};
use crate::weigh::ready_row::ReadyRow;
use crate::weigh::row_set::RowSet;
use crate::weigh::rows::Row;
use crate::weigh::term::Term;

/// Severity points per decade that stand for a stretch of one standard deviation.
const USUAL_POINTS: f64 = 240.0;
/// A reading farther off than this many standard deviations hardly changes along a stretch.
pub(super) const NEAR: f64 = 7.0;
/// A stretch that can't come nearer than this to the best (logarithm) is looked at in its middle only.
const HOPELESS: f64 = 18.0;
/// Histories kept there.
const HARDLY_ANY: usize = 4;
/// Most halvings.
const DEPTH: u32 = 12;
/// Half the distance of the two Gauss–Legendre points, as a share of a stretch.
const GAUSS_POINT: f64 = 0.288_675_134_594_812_9;

/// One severity with its weight.
#[derive(Debug, Clone)]
pub(crate) struct Node {
    pub u: f64,
    /// Share of the prior it stands for.
    pub width: f64,
    /// Logarithm of the likelihood of all rows.
    pub log: f64,
    /// Rows that agree, and rows that contradict; neither where anything may be shown.
    pub agrees: RowSet,
    pub contradicts: RowSet,
}

/// A cause, integrated.
#[derive(Debug, Clone)]
pub(crate) struct Integrated {
    pub nodes: Vec<Node>,
    /// Logarithm of the evidence after each row, beginning with none.
    pub course: Vec<f64>,
    /// What readings share, as the best severity sees it.
    pub belief: Belief,
}

/// All that is needed to weigh a cause along its severities.
pub(crate) struct Weighing<'w> {
    pub rows: &'w [Row],
    pub scale: Scale<'w>,
    pub(super) ready: Vec<ReadyRow>,
    /// Points per decade over the usual number.
    pub fineness: f64,
    /// Place of the battery's volts among what is shared.
    pub supply: Option<usize>,
    pub(super) mixture: Mixture,
    /// Places of the readings whose state is known, in an order that doesn't hang on when they were taken.
    order: Vec<usize>,
    /// Logarithm of the best evidence so far, and how far below it is hopeless.
    best: f64,
    hopeless: f64,
    /// What the severity at hand shows, row by row; the room is used again.
    shown: Vec<Shown>,
}

/// A row at one severity.
#[derive(Debug, Clone, Copy)]
struct Shown {
    predicted: Predicted,
    term: Term,
}

/// A severity between two stretches: every row under it, and what all rows together, none of them a mis-probe, tell about
/// what sways them.
struct Post {
    u: f64,
    terms: Vec<Term>,
    /// Standard deviation of each reading, as the rows before it (in [`Weighing::order`]) leave it.
    foreseen: Vec<f64>,
    known: Belief,
}

/// One cause's curves at the rows, and what a healthy circuit shows.
pub(crate) struct Faced<'f> {
    pub cause: &'f Cause,
    pub curves: Vec<&'f Curve>,
    pub healthy: Vec<Predicted>,
    /// For rows that may have been taken in several states: the other ones.
    pub further: Vec<Further<'f>>,
    pub comes_and_goes: bool,
}

/// What a row would show in another state that it may have been taken in, with the logarithm of that chance.
pub(crate) struct Further<'f> {
    pub row: usize,
    pub share: f64,
    pub curve: &'f Curve,
    pub healthy: Predicted,
}

impl<'w> Weighing<'w> {
    pub fn new(rows: &'w [Row], scale: Scale<'w>, points_per_decade: u32, supply: Option<usize>) -> Self {
        let fineness = f64::from(points_per_decade.max(1)) / USUAL_POINTS;
        let (mixture, best) = (Mixture::default(), f64::NEG_INFINITY);
        let ready = rows.iter().map(|row| ReadyRow::of(scale, row)).collect();
        let (order, hopeless, shown) = (order(rows), HOPELESS, Vec::new());
        Self { rows, scale, ready, fineness, supply, mixture, order, best, hopeless, shown }
    }

    /// Something else is known to come to `best`: what stays `hopeless` below it isn't looked into.
    pub const fn beside(&mut self, best: f64, hopeless: f64) {
        (self.best, self.hopeless) = (best, hopeless);
    }

    pub fn integrate(&mut self, faced: &Faced<'_>) -> Integrated {
        let mut sum = Sum::new(self.rows.len());
        if faced.cause.has_range() {
            let mut from = 0.0;
            for to in breaks(faced) {
                // A little inside: something moves at the ends themselves.
                let inside = (to - from) * 1e-6;
                let ends = [self.posted(faced, from + inside), self.posted(faced, to - inside)];
                self.stretch(faced, &mut sum, [from, to], [&ends[0], &ends[1]], DEPTH);
                from = to;
            }
        } else {
            self.point(faced, &mut sum, 0.0, 1.0);
        }
        let integrated = sum.done();
        self.best = self.best.max(integrated.course.last().copied().unwrap_or(f64::NEG_INFINITY));
        integrated
    }

    fn stretch(
        &mut self,
        faced: &Faced<'_>,
        sum: &mut Sum,
        [from, to]: [f64; 2],
        [left, right]: [&Post; 2],
        depth: u32,
    ) {
        let width = to - from;
        let (moves, most) = self.along(faced, left, right);
        if most <= self.best - self.hopeless {
            // Nearer than that, what is dropped could be seen, and it hangs on the order of the readings.
            let few = self.hopeless >= HOPELESS;
            self.mixture.keep(if few { HARDLY_ANY } else { PARTS });
            self.point(faced, sum, f64::midpoint(from, to), width);
            return self.mixture.keep(PARTS);
        }
        if depth > 0 && moves * self.fineness > 1.0 {
            let middle = f64::midpoint(from, to);
            let post = self.posted(faced, middle);
            self.stretch(faced, sum, [from, middle], [left, &post], depth - 1);
            return self.stretch(faced, sum, [middle, to], [&post, right], depth - 1);
        }
        let (middle, half) = (f64::midpoint(from, to), width * GAUSS_POINT);
        self.point(faced, sum, middle - half, width / 2.0);
        self.point(faced, sum, middle + half, width / 2.0);
    }

    /// By how many standard deviations the most moving reading moves between two severities, and the logarithm of the
    /// most that any severity between can reach.
    fn along(&self, faced: &Faced<'_>, left: &Post, right: &Post) -> (f64, f64) {
        let (mut moves, mut most) = (0.0_f64, 0.0);
        let seen = left.terms.iter().zip(&left.foreseen).zip(right.terms.iter().zip(&right.foreseen));
        for ((row, ready), ((from, left_sigma), (to, right_sigma))) in
            self.rows.iter().zip(&self.ready).zip(seen)
        {
            if row.is_in_doubt() || (faced.comes_and_goes && row.complaint != Present::Yes) {
                continue;
            }
            match (row.value, (from, to)) {
                (
                    ObservedValue::Number(reading),
                    (
                        Term::Reading { mean: a, sigma: s, sway },
                        Term::Reading { mean: b, sigma: t, sway: other },
                    ),
                ) => {
                    let own = s.min(*t);
                    let widest = s.max(*t);
                    let wide = (widest * widest + sway.alone().max(other.alone())).sqrt();
                    let (low, high) = (a.min(*b), a.max(*b));
                    let window = NEAR * self.fineness.max(1.0) * wide;
                    let near = (high.min(reading + window) - low.max(reading - window)).max(0.0);
                    if near > 0.0 {
                        let narrow = left.known.leave_one_out_sigma(*s, sway);
                        let narrow = narrow.min(right.known.leave_one_out_sigma(*t, other));
                        moves = moves.max(near / narrow.max(own).min(wide));
                    }
                    let distance = (low - reading).max(reading - high).max(0.0);
                    // Of readings that share what sways them, each is as probable at most as those before it leave it; one
                    // of them astray leaves the others less.
                    let narrowest = left_sigma.min(*right_sigma);
                    let peak = (-0.5 * (distance / wide).powi(2)).exp() / (narrowest * 2.5);
                    most += (peak + ready.astray).ln();
                }
                (_, (Term::Chance(a), Term::Chance(b))) => most += a.max(*b),
                _ => {}
            }
        }
        if !faced.further.is_empty() {
            let (further_moves, further_most) = self.along_in_doubt(faced, [left.u, right.u]);
            (moves, most) = (moves.max(further_moves), most + further_most);
        }
        (moves, most)
    }

    /// A severity as the two stretches beside it see it.
    fn posted(&self, faced: &Faced<'_>, u: f64) -> Post {
        let severity = faced.cause.severity(u);
        let rows = self.rows.iter().zip(&self.ready).zip(&faced.curves);
        let terms: Vec<Term> =
            rows.map(|((row, ready), curve)| ready.term(row, curve.at(u, severity))).collect();
        let (mut known, mut foreseen) = (Belief::new(), vec![0.0; terms.len()]);
        for i in &self.order {
            if let (Some(Term::Reading { sigma, sway, .. }), Some(entry)) =
                (terms.get(*i), foreseen.get_mut(*i))
            {
                *entry = known.narrow(*sigma, sway);
            }
        }
        Post { u, terms, foreseen, known }
    }

    fn point(&mut self, faced: &Faced<'_>, sum: &mut Sum, u: f64, width: f64) {
        let severity = faced.cause.severity(u);
        let mut shown = std::mem::take(&mut self.shown);
        shown.clear();
        shown.extend(self.rows.iter().zip(&self.ready).zip(&faced.curves).map(|((row, ready), curve)| {
            let predicted = curve.at(u, severity);
            Shown { predicted, term: ready.term(row, predicted) }
        }));
        self.mixture.reset(self.supply);
        sum.begin(width);
        let mut log = 0.0;
        for (i, (row, shown)) in self.rows.iter().zip(&shown).enumerate() {
            log = if row.is_in_doubt() {
                self.row_in_doubt(faced, i, u)
            } else {
                self.row(faced, i, row, shown.term)
            };
            sum.row(i, log);
        }
        let belief = self.mixture.top();
        let (agrees, contradicts) = self.fits(faced, u, &shown, &belief);
        sum.end(Node { u, width, log, agrees, contradicts }, &belief);
        self.shown = shown;
    }

    fn row(&mut self, faced: &Faced<'_>, i: usize, row: &Row, faulty: Term) -> f64 {
        let Some(ready) = self.ready.get(i) else { return self.mixture.log() };
        let value = if let ObservedValue::Number(reading) = row.value { reading } else { 0.0 };
        let (mis_probe, astray) = (self.scale.mis_probe, ready.astray);
        let gone = || ready.term(row, faced.healthy_at(i));
        match row.complaint {
            Present::No if faced.comes_and_goes => {
                self.mixture.observe(value, &[(0.0, gone())], mis_probe, astray)
            }
            Present::Unknown if faced.comes_and_goes => {
                let ways = [(ready.shows, faulty), (ready.hides, gone())];
                self.mixture.observe(value, &ways, mis_probe, astray)
            }
            _ => self.mixture.observe(value, &[(0.0, faulty)], mis_probe, astray),
        }
    }

    fn fits(&self, faced: &Faced<'_>, u: f64, shown: &[Shown], belief: &Belief) -> (RowSet, RowSet) {
        let (mut agrees, mut contradicts) = (RowSet::default(), RowSet::default());
        for (i, (row, shown)) in self.rows.iter().zip(shown).enumerate() {
            let faulty = || fit_of(row, shown.predicted, || shown.term, belief);
            let gone = || self.fit(row, faced.healthy_at(i), belief);
            let fit = match row.complaint {
                _ if row.is_in_doubt() => self.fit_in_doubt(faced, i, u, belief),
                Present::No if faced.comes_and_goes => gone(),
                Present::Unknown if faced.comes_and_goes => faulty().max(gone()),
                _ => faulty(),
            };
            match fit {
                Fit::Yes => agrees.insert(i),
                Fit::No => contradicts.insert(i),
                Fit::Anything => {}
            }
        }
        (agrees, contradicts)
    }

    pub(super) fn fit(&self, row: &Row, predicted: Predicted, belief: &Belief) -> Fit {
        fit_of(row, predicted, || self.scale.term(row, predicted), belief)
    }
}

/// Does a row agree with a prediction, whose term is made where it is needed?
fn fit_of(row: &Row, predicted: Predicted, term: impl Fn() -> Term, belief: &Belief) -> Fit {
    if let Some(fit) = plain_fit(row, predicted) {
        return fit;
    }
    match (row.value, term()) {
        (ObservedValue::Number(reading), Term::Reading { mean, sigma, sway }) => {
            let (offset, swayed) = belief.offset(&sway);
            let off = reading - mean - offset;
            let near = off * off <= FITS_WITHIN * FITS_WITHIN * (sigma * sigma + swayed);
            if near { Fit::Yes } else { Fit::No }
        }
        _ => Fit::No,
    }
}

impl Faced<'_> {
    /// What a healthy circuit shows in a row.
    fn healthy_at(&self, row: usize) -> Predicted {
        self.healthy.get(row).copied().unwrap_or(Predicted::Anything)
    }
}

fn order(rows: &[Row]) -> Vec<usize> {
    let numbers = rows.iter().enumerate().filter_map(|(i, row)| match row.value {
        ObservedValue::Number(reading) if !row.is_in_doubt() => Some((row.column, reading, i)),
        _ => None,
    });
    let mut all: Vec<(usize, f64, usize)> = numbers.collect();
    all.sort_by(|left, right| left.0.cmp(&right.0).then(left.1.total_cmp(&right.1)));
    all.into_iter().map(|(.., i)| i).collect()
}

/// Ends of all spans of all rows, in rising order; the last is 1.
fn breaks(faced: &Faced<'_>) -> Vec<f64> {
    let further = faced.further.iter().map(|further| further.curve);
    let curves = faced.curves.iter().copied().chain(further);
    let mut ends: Vec<f64> = curves.flat_map(Curve::ends).chain([1.0]).collect();
    ends.sort_by(f64::total_cmp);
    ends.dedup_by(|right, left| *right - *left < 1e-9);
    ends
}

/// Running sums of likelihoods, each with the logarithm of its scale.
struct Sum {
    integrated: Integrated,
    scaled: Vec<(f64, f64)>,
    width: f64,
    best: f64,
}

impl Sum {
    fn new(rows: usize) -> Self {
        let integrated = Integrated { nodes: Vec::new(), course: Vec::new(), belief: Belief::new() };
        Self { integrated, scaled: vec![(f64::NEG_INFINITY, 0.0); rows], width: 0.0, best: f64::NEG_INFINITY }
    }

    const fn begin(&mut self, width: f64) {
        self.width = width;
    }

    fn row(&mut self, i: usize, log: f64) {
        let Some((top, sum)) = self.scaled.get_mut(i) else { return };
        if log > *top {
            *sum *= (*top - log).exp();
            *top = log;
        }
        if *top > f64::NEG_INFINITY {
            *sum += self.width * (log - *top).exp();
        }
    }

    fn end(&mut self, node: Node, belief: &Belief) {
        if node.log > self.best {
            self.best = node.log;
            self.integrated.belief = *belief;
        }
        self.integrated.nodes.push(node);
    }

    fn done(mut self) -> Integrated {
        let after = self.scaled.iter().map(|(top, sum)| top + sum.ln());
        self.integrated.course = std::iter::once(0.0).chain(after).collect();
        self.integrated
    }
}
