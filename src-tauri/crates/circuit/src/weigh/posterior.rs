//! Posterior over causes and severities.

use std::cmp::Reverse;
use std::sync::Arc;

use crate::answer::options::Options;
use crate::file::observation::Present;
use crate::predict::model::Model;
use crate::predict::reading::Predicted;
use crate::weigh::belief::Belief;
use crate::weigh::likelihood::Scale;
use crate::weigh::prior::Priors;
use crate::weigh::row_set::RowSet;
use crate::weigh::rows::Rows;
use crate::weigh::severities::{Faced, Further, Integrated, Node, Weighing};

/// A steady fault hardly lets the complaint go away by itself (judgment).
const STEADY_YET_GONE: f64 = 0.05;

/// Beside something better, a cause that stays this far below it (logarithm) isn't looked into.
const BESIDE: f64 = 12.0;

/// One cause, steady or coming and going, with its weight at every severity.
#[derive(Debug, Clone)]
pub(crate) struct Hypothesis {
    pub cause: usize,
    pub comes_and_goes: bool,
    pub prior: f64,
    pub posterior: f64,
    pub nodes: Arc<[Severity]>,
    /// Logarithm of the evidence after each row.
    pub course: Vec<f64>,
    pub belief: Belief,
}

/// One severity of a hypothesis.
#[derive(Debug, Clone)]
pub(crate) struct Severity {
    /// Share of the prior below it.
    pub u: f64,
    /// Posterior given the hypothesis; all sum to 1.
    pub share: f64,
    /// Rows that agree with it, and rows that contradict it.
    pub agrees: RowSet,
    pub contradicts: RowSet,
}

/// All hypotheses.
#[derive(Debug, Clone)]
pub(crate) struct Posterior {
    pub hypotheses: Vec<Hypothesis>,
    pub unmodeled: f64,
    pub unmodeled_prior: f64,
    /// Logarithm of the evidence of what isn't modeled, after each row.
    pub unmodeled_course: Vec<f64>,
    /// Logarithm of everything's evidence after each row.
    pub course: Vec<f64>,
    /// Logarithm of the scale all weights were divided by.
    pub log_total: f64,
}

impl Posterior {
    /// Where something else is known to come to `best` (logarithm of the evidence), what stays far below that isn't looked
    /// into.
    pub fn of(model: &Model<'_>, rows: &Rows, options: &Options, best: Option<f64>) -> Self {
        let scale = Scale::new(&model.meters, options);
        let priors = Priors::of(model, options);
        let mut weighing = Weighing::new(&rows.rows, scale, options.points_per_decade, rows.supply);
        if let Some(best) = best {
            weighing.beside(best, BESIDE);
        }
        let wavers = rows.rows.iter().any(|row| row.complaint != Present::Yes);
        let mut by_cause: Vec<(usize, Vec<Hypothesis>)> = Vec::new();
        // Causes without severity first: what they reach tells where looking closer is hopeless.
        let order = (0..model.causes.len()).filter(|i| !ranges(model, *i));
        for number in order.chain((0..model.causes.len()).filter(|i| ranges(model, *i))) {
            let prior = priors.causes.get(number).copied().unwrap_or(0.0);
            by_cause.push((number, of_cause(model, rows, &mut weighing, number, prior, wavers)));
        }
        by_cause.sort_by_key(|(number, _)| *number);
        let hypotheses: Vec<Hypothesis> =
            by_cause.into_iter().flat_map(|(_, hypotheses)| hypotheses).collect();
        let mut flat = vec![0.0];
        for row in &rows.rows {
            let before = flat.last().copied().unwrap_or(0.0);
            let one = |(column, share): (usize, f64)| share + scale.unmodeled(row, healthy_at(model, column));
            flat.push(before + log_sum(row.columns().map(one)));
        }
        let mut posterior = Self {
            course: course_of_all(&hypotheses, priors.unmodeled, &flat),
            unmodeled: 0.0,
            unmodeled_prior: priors.unmodeled,
            unmodeled_course: flat,
            log_total: 0.0,
            hypotheses,
        };
        posterior.normalize();
        posterior
    }

    fn normalize(&mut self) {
        self.log_total = self.course.last().copied().unwrap_or(0.0);
        for hypothesis in &mut self.hypotheses {
            let log = hypothesis.course.last().copied().unwrap_or(0.0);
            hypothesis.posterior = hypothesis.prior * (log - self.log_total).exp();
        }
        let flat = self.unmodeled_course.last().copied().unwrap_or(0.0);
        self.unmodeled = self.unmodeled_prior * (flat - self.log_total).exp();
    }

    /// Makes room for further hypotheses whose weights are given as prior × exp(log evidence); returns their shares.
    pub fn make_room(&mut self, others: &[(f64, f64)]) -> Vec<f64> {
        let logs = others.iter().map(|(prior, log)| prior.ln() + log);
        let total = log_sum(std::iter::once(self.log_total).chain(logs.clone()));
        let keep = (self.log_total - total).exp();
        self.hypotheses.iter_mut().for_each(|hypothesis| hypothesis.posterior *= keep);
        self.unmodeled *= keep;
        logs.map(|log| (log - total).exp()).collect()
    }

    /// How many rows the single cause that explains most of them leaves unexplained, at whatever severity. One that allows
    /// anything where a healthy circuit shows something definite (a chattering relay) explains nothing.
    pub fn unexplained(&self, model: &Model<'_>, rows: &Rows) -> usize {
        let definite = rows.rows.iter().enumerate().filter(|(_, row)| {
            model.columns.get(row.column).is_none_or(|column| column.healthy != Predicted::Anything)
        });
        let definite: RowSet = definite.map(|(i, _)| i).collect();
        let nodes = self.hypotheses.iter().flat_map(|hypothesis| hypothesis.nodes.iter());
        let open = nodes.map(|node| definite.missing_from(&node.agrees).max(node.contradicts.len()));
        open.min().unwrap_or(0)
    }

    /// Probability per cause, steady and coming-and-going together.
    pub fn shares(&self, causes: usize) -> Vec<f64> {
        let mut shares = vec![0.0; causes];
        for hypothesis in &self.hypotheses {
            if let Some(share) = shares.get_mut(hypothesis.cause) {
                *share += hypothesis.posterior;
            }
        }
        shares
    }

    /// What readings share, as everything together sees it.
    pub fn belief(&self) -> Belief {
        let weighed = self.hypotheses.iter().map(|hypothesis| (hypothesis.posterior, hypothesis.belief));
        Belief::average(weighed.filter(|(weight, _)| *weight > 1e-6))
    }
}

impl Hypothesis {
    /// True when some severity agrees with every row, or allows anything.
    pub fn fits_all(&self) -> bool {
        self.nodes.iter().any(|node| node.contradicts.is_empty())
    }

    /// The severity that is most probable.
    pub fn best(&self) -> Option<&Severity> {
        self.nodes.iter().max_by_key(|node| (rank(node.share.ln()), Reverse(node.u.to_bits())))
    }
}

fn ranges(model: &Model<'_>, number: usize) -> bool {
    model.causes.get(number).is_some_and(crate::predict::cause::Cause::has_range)
}

fn of_cause(
    model: &Model<'_>,
    rows: &Rows,
    weighing: &mut Weighing<'_>,
    number: usize,
    prior: f64,
    wavers: bool,
) -> Vec<Hypothesis> {
    let Some(cause) = model.causes.get(number) else { return Vec::new() };
    let columns = rows.rows.iter().map(|row| model.columns.get(row.column));
    let Some(curves) = columns
        .clone()
        .map(|column| column.and_then(|column| column.curves.get(number)))
        .collect::<Option<Vec<_>>>()
    else {
        return Vec::new();
    };
    let healthy = columns.map(|column| column.map_or(Predicted::Anything, |column| column.healthy)).collect();
    let further = further(model, rows, number);
    let mut faced = Faced { cause, curves, healthy, further, comes_and_goes: false };
    let share = cause.comes_and_goes.clamp(0.0, 1.0);
    let gone = rows.rows.iter().any(|row| row.complaint == Present::No);
    let start = if gone { STEADY_YET_GONE.ln() } else { 0.0 };
    let steady = Weighed::of(weighing.integrate(&faced));
    // While the fault always showed, both look the same.
    let wavering = if wavers && share > 0.0 {
        faced.comes_and_goes = true;
        Weighed::of(weighing.integrate(&faced))
    } else {
        steady.clone()
    };
    let both = [(false, 1.0 - share, start, steady), (true, share, 0.0, wavering)];
    let counting = both.into_iter().filter(|(_, share, ..)| *share > 0.0);
    counting
        .map(|(comes_and_goes, share, start, weighed)| {
            weighed.hypothesis(number, comes_and_goes, prior * share, start)
        })
        .collect()
}

fn healthy_at(model: &Model<'_>, column: usize) -> Predicted {
    model.columns.get(column).map_or(Predicted::Anything, |column| column.healthy)
}

/// What a cause shows in the other states of the rows that may have been taken in several.
fn further<'m>(model: &'m Model<'_>, rows: &Rows, cause: usize) -> Vec<Further<'m>> {
    let in_doubt = rows.rows.iter().enumerate().filter(|(_, row)| row.is_in_doubt());
    let all =
        in_doubt.flat_map(|(i, row)| row.further.iter().map(move |(column, share)| (i, *column, *share)));
    all.filter_map(|(row, column, share)| {
        let column = model.columns.get(column)?;
        Some(Further { row, share, curve: column.curves.get(cause)?, healthy: column.healthy })
    })
    .collect()
}

/// A cause integrated, with the shares of its severities: the same for a steady fault and for one that comes and goes, as long
/// as it always showed.
#[derive(Clone)]
struct Weighed {
    nodes: Arc<[Severity]>,
    course: Vec<f64>,
    belief: Belief,
}

impl Weighed {
    fn of(integrated: Integrated) -> Self {
        let total = log_sum(integrated.nodes.iter().map(|node| node.log + node.width.ln()));
        let severity = |node: Node| Severity {
            u: node.u,
            share: (node.log + node.width.ln() - total).exp(),
            agrees: node.agrees,
            contradicts: node.contradicts,
        };
        Self {
            nodes: integrated.nodes.into_iter().map(severity).collect(),
            course: integrated.course,
            belief: integrated.belief,
        }
    }

    fn hypothesis(self, cause: usize, comes_and_goes: bool, prior: f64, start: f64) -> Hypothesis {
        let course = self.course.iter().map(|log| start + log).collect();
        let (nodes, belief) = (self.nodes, self.belief);
        Hypothesis { cause, comes_and_goes, prior, posterior: 0.0, nodes, course, belief }
    }
}

fn course_of_all(hypotheses: &[Hypothesis], unmodeled_prior: f64, flat: &[f64]) -> Vec<f64> {
    let step = |(i, flat): (usize, &f64)| {
        let single = hypotheses
            .iter()
            .map(|hypothesis| hypothesis.prior.ln() + hypothesis.course.get(i).copied().unwrap_or(0.0));
        log_sum(single.chain([unmodeled_prior.ln() + flat]))
    };
    flat.iter().enumerate().map(step).collect()
}

/// A logarithm, rounded: of what no reading tells apart the first counts as the best, whatever the last digits say. They hang
/// on the order of the readings, which must play no part.
#[allow(clippy::cast_possible_truncation, reason = "a cast saturates")]
pub(crate) fn rank(log: f64) -> i64 {
    (log * 1e4).round() as i64
}

/// Logarithm of a sum of exponentials.
pub(crate) fn log_sum(logs: impl Iterator<Item = f64> + Clone) -> f64 {
    let top = logs.clone().fold(f64::NEG_INFINITY, f64::max);
    if top == f64::NEG_INFINITY {
        return top;
    }
    top + logs.map(|log| (log - top).exp()).sum::<f64>().ln()
}
