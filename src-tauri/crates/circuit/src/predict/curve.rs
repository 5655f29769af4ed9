//! A reading as a function of severity: three solves fix each linear piece.
//!
//! With one resistance R free, every voltage of a linear circuit is V(R) = (V∞·R + V0·Rt)/(R + Rt). The same form
//! holds for a source's volts (a straight line). A relay, driver or fuse that moves starts a new piece.

use crate::predict::reading::Predicted;
use crate::solve::part::SPREAD;

/// Two solved points of one piece and what lies between, by the share `u` of the prior below a severity.
#[derive(Debug, Clone, Copy)]
enum Form {
    Constant(Predicted),
    /// value = v0 + (x − x0)·a / (1 + b·(x − x0)), the same with the battery's part of it; scatter runs straight with
    /// the value, or with `u` where the value hardly changes.
    Mobius {
        x0: f64,
        u: (f64, f64),
        v0: f64,
        v1: f64,
        a: f64,
        b: f64,
        scatter: (f64, f64),
        supply: (f64, f64),
        spread: ([f64; SPREAD], [f64; SPREAD]),
    },
}

/// A solved point.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SolvedPoint {
    pub u: f64,
    pub severity: f64,
    pub predicted: Predicted,
}

/// Predicted readings along all severities.
#[derive(Debug, Clone, Default)]
pub(crate) struct Curve {
    /// Where each span ends, apart from what it holds: a search among them reads a line of memory or two.
    spans: Vec<f64>,
    forms: Vec<Form>,
    ends: Vec<f64>,
}

impl Curve {
    /// Adds a piece that reaches to `to`: solved points in rising order, at least one.
    pub fn add_piece(&mut self, points: &[SolvedPoint], to: f64) {
        self.ends.push(to);
        if let [only] = points {
            self.push(to, Form::Constant(only.predicted));
        }
        for (k, pair) in points.windows(2).enumerate() {
            if let [left, right] = pair {
                let third = points.get(k + 2).or_else(|| k.checked_sub(1).and_then(|k| points.get(k)));
                let to = if k + 2 == points.len() { to } else { right.u };
                self.push(to, form(left, right, third));
            }
        }
    }

    fn push(&mut self, to: f64, form: Form) {
        self.spans.push(to);
        self.forms.push(form);
    }

    /// Prediction at a severity.
    pub fn at(&self, u: f64, severity: f64) -> Predicted {
        let place = self.spans.partition_point(|to| *to < u);
        let form = self.forms.get(place).or(self.forms.last());
        form.map_or(Predicted::Anything, |form| form.at(u, severity))
    }

    /// Shares `u` at which a piece ends: something moves there.
    pub fn ends(&self) -> impl Iterator<Item = f64> + '_ {
        self.ends.iter().copied()
    }
}

impl Form {
    fn at(&self, u: f64, severity: f64) -> Predicted {
        match *self {
            Self::Constant(predicted) => predicted,
            Self::Mobius { x0, u: (from, to), v0, v1, a, b, scatter, supply, spread: (mut spread, last) } => {
                let step = severity - x0;
                let value = v0 + step * a / (1.0 + b * step);
                let whole = v1 - v0;
                let done = if whole.abs() > 1e-3 { (value - v0) / whole } else { (u - from) / (to - from) };
                let between = |(left, right): (f64, f64)| left + (right - left) * done;
                spread.iter_mut().zip(last).for_each(|(first, last)| *first = between((*first, last)));
                Predicted::Value {
                    value,
                    scatter: between(scatter).max(0.0),
                    supply: between(supply),
                    spread,
                }
            }
        }
    }
}

fn form(left: &SolvedPoint, right: &SolvedPoint, third: Option<&SolvedPoint>) -> Form {
    let (
        Predicted::Value { value: v1, scatter: s1, supply: p1, spread: t1 },
        Predicted::Value { value: v2, scatter: s2, supply: p2, spread: t2 },
    ) = (left.predicted, right.predicted)
    else {
        return Form::Constant(left.predicted);
    };
    let (scatter, supply, spread) = ((s1, s2), (p1, p2), (t1, t2));
    let (d2, w2) = (right.severity - left.severity, v2 - v1);
    let mobius = |a: f64, b: f64| {
        let (x0, u) = (left.severity, (left.u, right.u));
        Form::Mobius { x0, u, v0: v1, v1: v2, a, b, scatter, supply, spread }
    };
    let straight = mobius(w2 / d2, 0.0);
    let Some((Predicted::Value { value: v3, .. }, x3)) = third.map(|third| (third.predicted, third.severity))
    else {
        return straight;
    };
    let (d3, w3) = (x3 - left.severity, v3 - v1);
    // Saturated: all three agree to the last digits, and a straight line is as good.
    if (w3 - w2).abs() < 1e-11 {
        return straight;
    }
    // The pole lies at R = −Rt, so 0 ≤ b ≤ 1/x0: rounding must not bring it into the span.
    let b = ((w2 / d2 - w3 / d3) / (w3 - w2)).clamp(0.0, 1.0 / left.severity);
    mobius(w2 / d2 + b * w2, b)
}
