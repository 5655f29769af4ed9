//! A reading as a function of severity: three solves fix each linear piece.
//!
//! With one resistance R free, every voltage of a linear circuit is V(R) = (V∞·R + V0·Rt)/(R + Rt). The same form
//! holds for a source's volts (a straight line). A relay, driver or fuse that moves starts a new piece.

use crate::reading::Predicted;

/// Two solved points of one piece and what lies between.
#[derive(Debug, Clone)]
struct Span {
    from: usize,
    to: usize,
    form: Form,
}

#[derive(Debug, Clone, Copy)]
enum Form {
    Constant(Predicted),
    /// value = v0 + (x − x0)·a / (1 + b·(x − x0)); scatter runs straight with the value, or with
    /// grid steps where the value hardly changes.
    Mobius {
        x0: f64,
        v0: f64,
        v1: f64,
        a: f64,
        b: f64,
        scatter: (f64, f64),
    },
}

/// A solved grid point.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Solved {
    pub index: usize,
    pub severity: f64,
    pub predicted: Predicted,
}

/// Predicted readings along the severity grid.
#[derive(Debug, Clone, Default)]
pub(crate) struct Curve {
    spans: Vec<Span>,
}

impl Curve {
    /// Adds a piece: solved points in rising order, at least one; two that aren't neighbours need a third.
    pub fn add_piece(&mut self, points: &[Solved]) {
        if let [only] = points {
            self.spans.push(Span { from: only.index, to: only.index, form: Form::Constant(only.predicted) });
        }
        for (k, pair) in points.windows(2).enumerate() {
            if let [left, right] = pair {
                let third = points.get(k + 2).or_else(|| k.checked_sub(1).and_then(|k| points.get(k)));
                self.spans.push(span(left, right, third));
            }
        }
    }

    /// Prediction at a grid point.
    pub fn at(&self, index: usize, severity: f64) -> Predicted {
        let place = self.spans.partition_point(|span| span.to < index);
        self.spans
            .get(place)
            .or(self.spans.last())
            .map_or(Predicted::Anything, |span| span.at(index, severity))
    }

    /// Predictions along the whole grid.
    pub fn along(&self, severities: &[f64]) -> Vec<Predicted> {
        severities.iter().enumerate().map(|(i, severity)| self.at(i, *severity)).collect()
    }
}

impl Span {
    fn at(&self, index: usize, severity: f64) -> Predicted {
        match self.form {
            Form::Constant(predicted) => predicted,
            Form::Mobius { x0, v0, v1, a, b, scatter: (left, right) } => {
                let step = severity - x0;
                let value = v0 + step * a / (1.0 + b * step);
                let whole = v1 - v0;
                let done = if whole.abs() > 1e-3 {
                    (value - v0) / whole
                } else {
                    steps(index.saturating_sub(self.from)) / steps((self.to - self.from).max(1))
                };
                Predicted::Value { value, scatter: left + (right - left) * done }
            }
        }
    }
}

fn span(left: &Solved, right: &Solved, third: Option<&Solved>) -> Span {
    let (from, to) = (left.index, right.index);
    let constant = Span { from, to, form: Form::Constant(left.predicted) };
    let (Predicted::Value { value: v1, scatter: s1 }, Predicted::Value { value: v2, scatter: s2 }) =
        (left.predicted, right.predicted)
    else {
        return constant;
    };
    let scatter = (s1, s2);
    let straight = |a: f64| Span {
        from,
        to,
        form: Form::Mobius { x0: left.severity, v0: v1, v1: v2, a, b: 0.0, scatter },
    };
    let (d2, w2) = (right.severity - left.severity, v2 - v1);
    let Some((Predicted::Value { value: v3, .. }, x3)) = third.map(|third| (third.predicted, third.severity))
    else {
        return straight(w2 / d2);
    };
    let (d3, w3) = (x3 - left.severity, v3 - v1);
    // Saturated: all three agree to the last digits, and a straight line is as good.
    if (w3 - w2).abs() < 1e-11 {
        return straight(w2 / d2);
    }
    // The pole lies at R = −Rt, so 0 ≤ b ≤ 1/x0: rounding must not bring it into the span.
    let b = ((w2 / d2 - w3 / d3) / (w3 - w2)).clamp(0.0, 1.0 / left.severity);
    Span {
        from,
        to,
        form: Form::Mobius { x0: left.severity, v0: v1, v1: v2, a: w2 / d2 + b * w2, b, scatter },
    }
}

#[allow(clippy::cast_precision_loss, reason = "grid steps are a few thousand")]
const fn steps(n: usize) -> f64 {
    n as f64
}
