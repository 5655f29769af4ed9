//! Posterior over causes and severities.

use crate::cause::Cause;
use crate::diagnosis::Options;
use crate::likelihood::{Fit, Row, Scale};
use crate::model::Model;
use crate::observation::Present;

/// A steady fault hardly lets the complaint go away by itself (judgement).
const STEADY_YET_GONE: f64 = 0.05;

/// One cause, steady or coming and going, with its weight at every severity.
#[derive(Debug, Clone)]
pub(crate) struct Hypothesis {
    pub cause: usize,
    pub comes_and_goes: bool,
    pub prior: f64,
    pub posterior: f64,
    /// Posterior of each severity given this hypothesis; sums to 1.
    pub shares: Vec<f64>,
    /// Logarithm of the evidence after each row.
    pub course: Vec<f64>,
    /// Per row: does each severity fit?
    pub fits: Vec<Vec<Fit>>,
}

/// All hypotheses.
#[derive(Debug, Clone)]
pub(crate) struct Posterior {
    pub hypotheses: Vec<Hypothesis>,
    pub unmodelled_prior: f64,
    pub unmodelled: f64,
    unmodelled_log: f64,
    /// Logarithm of the scale all weights were divided by.
    log_total: f64,
    /// Logarithm of everything's evidence after each row, for the odds' course.
    pub course: Vec<f64>,
}

impl Posterior {
    pub fn of(model: &Model<'_>, rows: &[Row], options: &Options) -> Self {
        let scale = Scale::new(model.meter, options);
        let odds: f64 = model.causes.iter().map(|cause| cause.spec.odds).sum();
        let all = odds + model.wiring.circuit.unmodelled_odds;
        let mut hypotheses = Vec::new();
        for (number, cause) in model.causes.iter().enumerate() {
            let views = views_of(model, rows, scale, number, cause);
            for comes_and_goes in [false, true] {
                let share = cause.spec.comes_and_goes;
                let share = if comes_and_goes { share } else { 1.0 - share };
                if share > 0.0 {
                    let prior = cause.spec.odds * share / all;
                    hypotheses.push(weigh(&views, cause.severities.len(), number, comes_and_goes, prior));
                }
            }
        }
        let unmodelled_prior = model.wiring.circuit.unmodelled_odds / all;
        let mut flat = vec![0.0];
        for row in rows {
            let before = flat.last().copied().unwrap_or(0.0);
            flat.push(before + scale.unmodelled(row).ln());
        }
        let mut posterior = Self {
            unmodelled_prior,
            unmodelled: 0.0,
            unmodelled_log: flat.last().copied().unwrap_or(0.0),
            log_total: 0.0,
            course: course_of_all(&hypotheses, unmodelled_prior, &flat),
            hypotheses,
        };
        posterior.normalise();
        posterior
    }

    fn normalise(&mut self) {
        self.log_total = self.course.last().copied().unwrap_or(0.0);
        for hypothesis in &mut self.hypotheses {
            let log = hypothesis.course.last().copied().unwrap_or(0.0);
            hypothesis.posterior = hypothesis.prior * (log - self.log_total).exp();
        }
        self.unmodelled = self.unmodelled_prior * (self.unmodelled_log - self.log_total).exp();
    }

    /// Makes room for further hypotheses whose weights are given as prior × exp(log evidence); returns their shares.
    pub fn make_room(&mut self, others: &[(f64, f64)]) -> Vec<f64> {
        let logs = others.iter().map(|(prior, log)| prior.ln() + log);
        let total = log_sum(std::iter::once(self.log_total).chain(logs.clone()));
        let keep = (self.log_total - total).exp();
        self.hypotheses.iter_mut().for_each(|hypothesis| hypothesis.posterior *= keep);
        self.unmodelled *= keep;
        logs.map(|log| (log - total).exp()).collect()
    }

    /// True when some single cause at some severity agrees with every row.
    pub fn something_fits_all(&self) -> bool {
        self.hypotheses.iter().any(Hypothesis::fits_all)
    }
}

impl Hypothesis {
    /// True when some severity agrees with every row, or allows anything.
    pub fn fits_all(&self) -> bool {
        (0..self.shares.len()).any(|i| self.fits.iter().all(|row| row.get(i) != Some(&Fit::No)))
    }
}

/// One row as a cause sees it along its severities, while the fault shows and while it doesn't.
struct View {
    complaint: Present,
    faulty: Vec<f64>,
    faulty_fits: Vec<Fit>,
    healthy: f64,
    healthy_fits: Fit,
}

fn views_of(model: &Model<'_>, rows: &[Row], scale: Scale<'_>, number: usize, cause: &Cause) -> Vec<View> {
    let view = |row: &Row| {
        let column = model.columns.get(row.column)?;
        let curve = column.curves.get(number)?.along(&cause.severities);
        Some(View {
            complaint: row.complaint,
            faulty: curve.iter().map(|predicted| scale.likelihood(row, *predicted).ln()).collect(),
            faulty_fits: curve.iter().map(|predicted| scale.fits(row, *predicted)).collect(),
            healthy: scale.likelihood(row, column.healthy).ln(),
            healthy_fits: scale.fits(row, column.healthy),
        })
    };
    rows.iter().filter_map(view).collect()
}

impl View {
    /// Logarithm of the likelihood at each severity.
    fn log(&self, faulty: f64, comes_and_goes: bool) -> f64 {
        match self.complaint {
            Present::No if comes_and_goes => self.healthy,
            Present::Unknown if comes_and_goes => log_sum([faulty, self.healthy].into_iter()) - 2.0_f64.ln(),
            _ => faulty,
        }
    }

    fn fit(&self, faulty: Fit, comes_and_goes: bool) -> Fit {
        match self.complaint {
            Present::No if comes_and_goes => self.healthy_fits,
            Present::Unknown if comes_and_goes => faulty.max(self.healthy_fits),
            _ => faulty,
        }
    }
}

fn weigh(views: &[View], count: usize, number: usize, comes_and_goes: bool, prior: f64) -> Hypothesis {
    let mut logs = vec![0.0; count];
    let gone = views.iter().any(|view| view.complaint == Present::No) && !comes_and_goes;
    let start = if gone { STEADY_YET_GONE.ln() } else { 0.0 };
    let mut course = vec![start];
    let mut fits = Vec::with_capacity(views.len());
    for view in views {
        for (log, faulty) in logs.iter_mut().zip(&view.faulty) {
            *log += view.log(*faulty, comes_and_goes);
        }
        fits.push(view.faulty_fits.iter().map(|fit| view.fit(*fit, comes_and_goes)).collect());
        course.push(start + log_mean(&logs));
    }
    let top = log_sum(logs.iter().copied());
    let shares = logs.iter().map(|log| (log - top).exp()).collect();
    Hypothesis { cause: number, comes_and_goes, prior, posterior: 0.0, shares, course, fits }
}

fn course_of_all(hypotheses: &[Hypothesis], unmodelled_prior: f64, flat: &[f64]) -> Vec<f64> {
    let step = |(i, flat): (usize, &f64)| {
        let single = hypotheses
            .iter()
            .map(|hypothesis| hypothesis.prior.ln() + hypothesis.course.get(i).copied().unwrap_or(0.0));
        log_sum(single.chain([unmodelled_prior.ln() + flat]))
    };
    flat.iter().enumerate().map(step).collect()
}

/// Logarithm of a sum of exponentials.
pub(crate) fn log_sum(logs: impl Iterator<Item = f64> + Clone) -> f64 {
    let top = logs.clone().fold(f64::NEG_INFINITY, f64::max);
    if top == f64::NEG_INFINITY {
        return top;
    }
    top + logs.map(|log| (log - top).exp()).sum::<f64>().ln()
}

#[allow(clippy::cast_precision_loss, reason = "grids hold a few thousand points")]
fn log_mean(logs: &[f64]) -> f64 {
    log_sum(logs.iter().copied()) - (logs.len().max(1) as f64).ln()
}
