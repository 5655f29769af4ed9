//! What of a row hangs on the row alone, computed once: a cause is held against it at hundreds of severities.

use crate::file::observation::ObservedValue;
use crate::predict::reading::Predicted;
use crate::weigh::likelihood::{Grain, Scale};
use crate::weigh::rows::Row;
use crate::weigh::term::{Term, gauss};

/// A row's terms under every prediction that isn't a reading's value, and what a reading's σ is made of.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ReadyRow {
    /// Density of a mis-probe that shows this, times its chance.
    pub astray: f64,
    /// Nothing for answers and over-limit displays.
    grain: Option<Grain>,
    yes: Term,
    no: Term,
    over_limit: Term,
    anything: Term,
    /// Logarithms of the chances that a fault that comes and goes showed, and that it hid.
    pub shows: f64,
    pub hides: f64,
}

impl ReadyRow {
    pub fn of(scale: Scale<'_>, row: &Row) -> Self {
        Self {
            astray: scale.astray(row),
            grain: matches!(row.value, ObservedValue::Number(_)).then(|| scale.grain(row)),
            yes: scale.term(row, Predicted::plain(1.0)),
            no: scale.term(row, Predicted::plain(0.0)),
            over_limit: scale.term(row, Predicted::OverLimit),
            anything: scale.term(row, Predicted::Anything),
            shows: row.shows.ln(),
            hides: (1.0 - row.shows).ln(),
        }
    }

    /// As [`Scale::term`].
    pub fn term(&self, row: &Row, predicted: Predicted) -> Term {
        match (predicted, &self.grain) {
            (Predicted::Value { value, scatter, supply, spread }, Some(grain)) => {
                grain.reading(row, value, scatter, supply, spread)
            }
            (Predicted::Value { value, .. }, None) if value > 0.5 => self.yes,
            (Predicted::Value { .. }, None) => self.no,
            (Predicted::OverLimit, _) => self.over_limit,
            (Predicted::Anything, _) => self.anything,
        }
    }

    /// Logarithm of the row's likelihood with everything that sways it counted as its own.
    pub fn roughly(&self, row: &Row, term: Term) -> f64 {
        match (row.value, term) {
            (ObservedValue::Number(reading), Term::Reading { mean, sigma, sway }) => {
                let sigma = (sigma * sigma + sway.alone()).sqrt();
                (gauss(reading - mean, sigma) + self.astray).ln()
            }
            (_, Term::Chance(log)) => log,
            _ => f64::NEG_INFINITY,
        }
    }
}
