//! Rows that may have been taken in several states: each state is a way in which the reading may have come about.

use crate::file::observation::{ObservedValue, Present};
use crate::predict::reading::Predicted;
use crate::weigh::belief::Belief;
use crate::weigh::likelihood::Fit;
use crate::weigh::rows::Row;
use crate::weigh::severities::{Faced, NEAR, Weighing};
use crate::weigh::term::Term;

impl Weighing<'_> {
    /// As for other rows, with the ways of all states: logarithm of everything so far.
    pub(super) fn row_in_doubt(&mut self, faced: &Faced<'_>, i: usize, u: f64) -> f64 {
        let Some(row) = self.rows.get(i) else { return self.mixture.log() };
        let ways: Vec<(f64, Term)> =
            faced.ways(row, i, u).map(|(share, shown)| (share, self.scale.term(row, shown))).collect();
        let value = if let ObservedValue::Number(reading) = row.value { reading } else { 0.0 };
        let astray = self.scale.astray(row);
        self.mixture.observe(value, &ways, self.scale.mis_probe, astray)
    }

    /// It fits when it fits in one of its states.
    pub(super) fn fit_in_doubt(&self, faced: &Faced<'_>, i: usize, u: f64, belief: &Belief) -> Fit {
        let Some(row) = self.rows.get(i) else { return Fit::Anything };
        let fits = faced.ways(row, i, u).map(|(_, shown)| self.fit(row, shown, belief));
        fits.max().unwrap_or(Fit::Anything)
    }

    /// By how many standard deviations the most moving state's reading moves between two severities, and the logarithm of the
    /// most that any state reaches: the average of all of them can't be more.
    pub(super) fn along_in_doubt(&self, faced: &Faced<'_>, [from, to]: [f64; 2]) -> (f64, f64) {
        let (mut moves, mut most) = (0.0_f64, 0.0);
        for (i, row) in self.rows.iter().enumerate().filter(|(_, row)| row.is_in_doubt()) {
            let astray = self.scale.astray(row);
            let mut best = f64::NEG_INFINITY;
            for ((_, left), (_, right)) in faced.ways(row, i, from).zip(faced.ways(row, i, to)) {
                match (row.value, self.scale.term(row, left), self.scale.term(row, right)) {
                    (
                        ObservedValue::Number(reading),
                        Term::Reading { mean: a, sigma: s, sway },
                        Term::Reading { mean: b, sigma: t, sway: other },
                    ) => {
                        let own = s.min(t);
                        let swayed = Belief::new().offset(&sway).1.max(Belief::new().offset(&other).1);
                        let wide = s.max(t).hypot(swayed.sqrt());
                        let (low, high) = (a.min(b), a.max(b));
                        let window = NEAR * self.fineness.max(1.0) * wide;
                        let near = (high.min(reading + window) - low.max(reading - window)).max(0.0);
                        moves = moves.max(near / own);
                        let distance = (low - reading).max(reading - high).max(0.0);
                        let peak = (-0.5 * (distance / wide).powi(2)).exp() / (own * 2.5);
                        best = best.max((peak + astray).ln());
                    }
                    (_, Term::Chance(a), Term::Chance(b)) => best = best.max(a.max(b)),
                    // Something moves between the two: the reading may lie where its density is highest.
                    (_, Term::Chance(log), Term::Reading { sigma, .. })
                    | (_, Term::Reading { sigma, .. }, Term::Chance(log)) => {
                        best = best.max(log).max((1.0 / (sigma * 2.5) + astray).ln());
                    }
                    _ => best = best.max(0.0),
                }
            }
            most += best;
        }
        (moves, most)
    }
}

impl Faced<'_> {
    /// Every way a row may have come about: its states, and in each the fault there or gone.
    fn ways<'s>(&'s self, row: &'s Row, i: usize, u: f64) -> impl Iterator<Item = (f64, Predicted)> + 's {
        let severity = self.cause.severity(u);
        let first = self.curves.get(i).map(|curve| {
            let healthy = self.healthy.get(i).copied().unwrap_or(Predicted::Anything);
            (row.share, curve.at(u, severity), healthy)
        });
        let others = self.further.iter().filter(move |further| further.row == i);
        let others =
            others.map(move |further| (further.share, further.curve.at(u, severity), further.healthy));
        let goes = self.comes_and_goes;
        let complaint = row.complaint;
        first.into_iter().chain(others).flat_map(move |(share, faulty, healthy)| {
            let (shows, hides) = (share + row.shows.ln(), share + (1.0 - row.shows).ln());
            let ways = match complaint {
                Present::No if goes => [Some((share, healthy)), None],
                Present::Unknown if goes => [Some((shows, faulty)), Some((hides, healthy))],
                _ => [Some((share, faulty)), None],
            };
            ways.into_iter().flatten()
        })
    }
}
