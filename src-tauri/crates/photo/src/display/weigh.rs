//! From several cuts of one row to one value, and how sure it is.

use super::alignments::{Scores, best_strings, log_probability};
use super::grammar::{Said, said};
use std::collections::BTreeMap;

/// Strings of each cut that are weighed.
const STRINGS: usize = 6;
/// Plain cuts; behind them come one that reaches further before the row and one that reaches further after it.
const PLAIN: usize = 4;

/// What a confidence is made of; shares from 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Evidence {
    /// Probability of the value, averaged over the plain cuts.
    pub mean: f64,
    /// Probability of the value in the cut that likes it least.
    pub least: f64,
    /// Probability that the cut reaching further before the row says the same.
    pub before: f64,
    /// Probability that the cut reaching further after the row says the same.
    pub after: f64,
    /// Digits and no point: where the point is lost in the light, this is what is left of the number.
    pub no_point: bool,
    /// Two rows of about the same size.
    pub two_rows: bool,
}

/// One cut with its likeliest strings and their probabilities.
#[derive(Debug)]
pub struct Cut {
    scores: Scores,
    strings: Vec<(String, f64)>,
}

impl Cut {
    /// Searches the strings.
    pub fn new(scores: Scores) -> Self {
        let strings =
            best_strings(&scores, STRINGS).into_iter().map(|(string, log)| (string, log.exp())).collect();
        Self { scores, strings }
    }
}

/// Cuts of one row, weighed together.
#[derive(Debug)]
pub struct Row {
    cuts: Vec<Cut>,
    /// Every likely string of the plain cuts, with its mean probability.
    strings: Vec<(String, f64)>,
}

impl Row {
    /// From four plain cuts, one that reaches further before the row and one that reaches further after it.
    pub fn new(scores: Vec<Scores>) -> Self {
        let cuts: Vec<Cut> = scores.into_iter().map(Cut::new).collect();
        let plain = || cuts.iter().take(PLAIN);
        let mut names: Vec<String> =
            plain().flat_map(|cut| &cut.strings).map(|(string, _)| string.clone()).collect();
        names.sort();
        names.dedup();
        let count = plain().count().max(1) as f64;
        let mean =
            |string: &str| plain().map(|cut| log_probability(&cut.scores, string).exp()).sum::<f64>() / count;
        let strings = names.into_iter().map(|string| (string.clone(), mean(&string))).collect();
        Self { cuts, strings }
    }

    /// Likelihood that the row stands on its head.
    pub fn upside_down(&self) -> f64 {
        self.shares().get(&Said::Turned).copied().unwrap_or(0.0)
    }

    fn shares(&self) -> BTreeMap<Said, f64> {
        let mut shares = BTreeMap::new();
        for (string, share) in &self.strings {
            *shares.entry(said(string)).or_insert(0.0) += share;
        }
        shares
    }

    /// What is most likely said, and how likely.
    pub fn best(&self) -> (Said, f64) {
        let likeliest = self.shares().into_iter().max_by(|a, b| a.1.total_cmp(&b.1));
        likeliest.unwrap_or((Said::Nothing, 0.0))
    }

    /// Whether the row goes on before or after what the plain cuts show: a wider cut shows more of the same number, or
    /// the outermost sign is cut.
    pub fn longer(&self) -> Option<(bool, bool)> {
        let sides = match self.best().0 {
            Said::Value(value) => {
                (self.shows_more(PLAIN, &value, true), self.shows_more(PLAIN + 1, &value, false))
            }
            Said::NoNumber => {
                let likeliest = self.strings.iter().max_by(|a, b| a.1.total_cmp(&b.1));
                let string = likeliest.map(|(string, _)| string.as_str()).unwrap_or_default();
                (string.starts_with('?'), string.ends_with('?'))
            }
            Said::Turned | Said::Nothing => (false, false),
        };
        (sides.0 || sides.1).then_some(sides)
    }

    fn shows_more(&self, cut: usize, value: &str, before: bool) -> bool {
        let likeliest = self.cuts.get(cut).and_then(|cut| cut.strings.first());
        likeliest.is_some_and(|likeliest| extends(likeliest, value, before))
    }

    /// The likeliest value and what speaks for it.
    pub fn evidence(&self) -> (Option<String>, Evidence) {
        let (Said::Value(value), mean) = self.best() else { return (None, Evidence::default()) };
        let wanted = Said::Value(value.clone());
        let says = |cut: &Cut| -> f64 {
            let same = self.strings.iter().filter(|(string, _)| said(string) == wanted);
            same.map(|(string, _)| log_probability(&cut.scores, string).exp()).sum()
        };
        let least = self.cuts.iter().take(PLAIN).map(says).fold(1.0, f64::min);
        // A wider cut may show a part of what stands beside the row; that part says nothing about the row.
        let agrees = |cut: Option<&Cut>| -> f64 {
            let found = cut.map(|cut| cut.strings.as_slice()).unwrap_or_default();
            found
                .iter()
                .filter(|(string, _)| said(string.trim_matches('?')) == wanted)
                .map(|(_, likely)| likely)
                .sum()
        };
        let (before, after) = (agrees(self.cuts.get(PLAIN)), agrees(self.cuts.get(PLAIN + 1)));
        let no_point = digits(&value) > 0 && !value.contains('.');
        (Some(value), Evidence { mean, least, before, after, no_point, ..Evidence::default() })
    }
}

/// Whether a cut says the same number with more before or after it.
pub fn shows_more(cut: &Scores, value: &str, before: bool) -> bool {
    likeliest(cut).is_some_and(|likeliest| extends(&likeliest, value, before))
}

/// Whether a cut says a number.
pub fn is_number(cut: &Scores) -> bool {
    likeliest(cut).is_some_and(|(string, likely)| match said(&string) {
        Said::Value(value) => likely > if digits(&value) > 1 { LIKELY } else { LIKELY_ALONE },
        _ => false,
    })
}

/// Of a single cut, a string this likely is taken for what stands there.
const LIKELY: f64 = 0.4;
/// A single digit must be surer: a stroke of something else looks like a 1.
const LIKELY_ALONE: f64 = 0.6;

fn digits(value: &str) -> usize {
    value.chars().filter(char::is_ascii_digit).count()
}

fn likeliest(cut: &Scores) -> Option<(String, f64)> {
    best_strings(cut, STRINGS).into_iter().next().map(|(string, log)| (string, log.exp()))
}

fn extends((string, likely): &(String, f64), value: &str, before: bool) -> bool {
    let Said::Value(more) = said(string.trim_matches('?')) else { return false };
    let extends = if before { more.ends_with(value) } else { more.starts_with(value) };
    extends && more.len() > value.len() && *likely > LIKELY
}

/// Weights of the constant, then of the terms in [`terms`]; fitted on invented photos that nothing was trained on.
const WEIGHTS: [f64; TERMS] = [1.81, 0.16, 0.45, 0.41, 0.30, -1.54];
/// What is made of their sum: a constant, a slope, and what is added to the slope beyond a sum of [`KNEE`], where readings are
/// right more often than one slope says. Fitted as the weights.
const BENT: [f64; 3] = [0.12, 0.87, 0.34];
const KNEE: f64 = 2.5;
/// How many terms there are.
pub const TERMS: usize = 6;
/// No reading beside another row of its size is surer than this.
const MOST_WITH_TWO_ROWS: f64 = 0.9;

/// Probability that the value is right.
pub fn confidence(evidence: &Evidence) -> f64 {
    let sum: f64 = WEIGHTS.iter().zip(terms(evidence)).map(|(weight, term)| weight * term).sum();
    let [constant, slope, more] = BENT;
    let odds = constant + slope * sum + more * (sum - KNEE).max(0.0);
    let sure = 1.0 / (1.0 + (-odds).exp());
    if evidence.two_rows { sure.min(MOST_WITH_TWO_ROWS) } else { sure }
}

/// What the confidence is a weighted sum of.
#[must_use]
pub fn terms(evidence: &Evidence) -> [f64; TERMS] {
    let odds = |share: f64| {
        let share = share.clamp(1e-4, 0.9999);
        (share / (1.0 - share)).ln()
    };
    let Evidence { mean, least, before, after, no_point, .. } = *evidence;
    [1.0, odds(mean), odds(least), odds(before), odds(after), f64::from(u8::from(no_point))]
}
