//! Pairs of faults at a glance: nothing is solved, each fault's own curves tell about what both together would show.
//!
//! In a linear circuit small changes add up; of two faults that hide each other one shows what it shows alone. A row counts
//! as the best of these three says, so that no pair is lost that may explain it: what is promising is solved afterwards.

use crate::answer::options::Options;
use crate::file::observation::ObservedValue;
use crate::predict::cause::Cause;
use crate::predict::model::Model;
use crate::predict::reading::Predicted;
use crate::weigh::likelihood::Scale;
use crate::weigh::posterior::{Hypothesis, rank};
use crate::weigh::ready_row::ReadyRow;
use crate::weigh::rows::{Row, Rows};
use crate::weigh::term::{Term, gauss};

/// Severities of a fault that has a range, as shares of its prior, beside its best one.
const SEVERITIES: [f64; 6] = [0.06, 0.2, 0.4, 0.6, 0.8, 0.94];
/// Two changes of one reading add up to this share of the smaller one (judgment).
const ADDS_UP_WITHIN: f64 = 0.25;
/// Beyond so many variances a reading counts as gone astray: 12 standard deviations, as [`gauss`] has it.
const SEEN: f64 = 144.0;
/// A row this far (logarithm) below the best it could be isn't explained.
const UNEXPLAINED: f64 = 4.5;

/// Every cause at some severities.
pub(super) struct Glance {
    /// Each answer as if it were the first: the better of two faults may change from one row to the next.
    rows: Vec<Row>,
    ready: Vec<ReadyRow>,
    healthy: Vec<Predicted>,
    causes: Vec<Vec<Seen>>,
}

/// One cause at one severity: per row what it shows, and the logarithm of the row's likelihood under it.
struct Seen {
    u: f64,
    shown: Vec<Predicted>,
    logs: Vec<f64>,
}

impl Glance {
    pub fn of(model: &Model<'_>, rows: &Rows, options: &Options, steady: &[&Hypothesis]) -> Self {
        let scale = Scale::new(&model.meters, options);
        let first = |row: &Row| Row { answered: [0, 0], ..row.clone() };
        let rows: Vec<Row> = rows.rows.iter().map(first).collect();
        let ready: Vec<ReadyRow> = rows.iter().map(|row| ReadyRow::of(scale, row)).collect();
        let column = |row: &Row| model.columns.get(row.column);
        let healthy = |row: &Row| column(row).map_or(Predicted::Anything, |column| column.healthy);
        let healthy: Vec<Predicted> = rows.iter().map(healthy).collect();
        let seen = |number: usize, cause: &Cause, u: f64| {
            let severity = cause.severity(u);
            let at = |row: &Row| Some(column(row)?.curves.get(number)?.at(u, severity));
            let shown: Vec<Predicted> =
                rows.iter().map(|row| at(row).unwrap_or(Predicted::Anything)).collect();
            let ready = rows.iter().zip(&ready);
            let roughly = |((row, ready), shown): ((&Row, &ReadyRow), &Predicted)| {
                ready.roughly(row, ready.term(row, *shown))
            };
            let logs = ready.zip(&shown).map(roughly).collect();
            Seen { u, shown, logs }
        };
        let all = model.causes.iter().enumerate().map(|(number, cause)| {
            let own = steady.iter().find(|hypothesis| hypothesis.cause == number);
            let best = own.and_then(|own| own.best()).map_or(0.5, |best| best.u);
            let further = SEVERITIES.iter().copied().filter(|_| cause.has_range());
            std::iter::once(best).chain(further).map(|u| seen(number, cause, u)).collect()
        });
        let causes = all.collect();
        Self { rows, ready, healthy, causes }
    }

    /// Most that two causes together explain, as a logarithm of the likelihood, and at which of their severities.
    pub fn at(&self, causes: [usize; 2]) -> (f64, [f64; 2]) {
        let of = |cause: usize| self.causes.get(cause).map_or(&[][..], Vec::as_slice);
        let mut best = (f64::NEG_INFINITY, [0.5; 2]);
        for left in of(causes[0]) {
            for right in of(causes[1]) {
                let log = self.together(left, right);
                if rank(log) > rank(best.0) {
                    best = (log, [left.u, right.u]);
                }
            }
        }
        best
    }

    fn together(&self, left: &Seen, right: &Seen) -> f64 {
        let mut all = 0.0;
        let alone = left.logs.iter().zip(&right.logs);
        let shown = left.shown.iter().zip(&right.shown).zip(&self.healthy);
        let rows = self.rows.iter().zip(&self.ready);
        for (((row, ready), (own, other)), ((first, second), healthy)) in rows.zip(alone).zip(shown) {
            let mut log = own.max(*other);
            if log < -UNEXPLAINED {
                let both = added(row, ready, [first, second], healthy);
                log = log.max(both.unwrap_or(f64::NEG_INFINITY));
            }
            all += log;
        }
        all
    }
}

/// Both changes added up; nothing where that explains no more than a mis-probe does.
fn added(row: &Row, ready: &ReadyRow, both: [&Predicted; 2], healthy: &Predicted) -> Option<f64> {
    let ObservedValue::Number(reading) = row.value else { return None };
    let [Predicted::Value { value: first, scatter, supply, spread }, Predicted::Value { value: second, .. }] =
        both
    else {
        return None;
    };
    let Predicted::Value { value: whole, .. } = healthy else { return None };
    let changes = [first - whole, second - whole];
    let value = whole + changes[0] + changes[1];
    let (scatter, supply, spread) = (*scatter, *supply, *spread);
    let Term::Reading { mean, sigma, sway } =
        ready.term(row, Predicted::Value { value, scatter, supply, spread })
    else {
        return None;
    };
    let unsure = ADDS_UP_WITHIN * changes[0].abs().min(changes[1].abs());
    let variance = sigma * sigma + sway.alone() + unsure * unsure;
    let off = reading - mean;
    (off * off <= SEEN * variance).then(|| (gauss(off, variance.sqrt()) + ready.astray).ln())
}
