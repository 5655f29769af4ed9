//! Is a reading good? Against the limits of its test, or what a healthy circuit would have shown.

use circuit::{Expected, MeasureMode, ObservedValue, Test};

use crate::picture::Judged;

/// Share of the healthy value by which a reading may be off and still count as good (judgment: meters, tolerances of parts).
const SHARE: f64 = 0.08;

/// How far a reading may be off at a healthy value of nothing, in the unit of the mode (judgment).
const fn floor(mode: MeasureMode) -> f64 {
    match mode {
        MeasureMode::MillivoltsDc => 0.005,
        MeasureMode::Ohms | MeasureMode::Continuity => 0.5,
        MeasureMode::Amps | MeasureMode::AmpsClamp => 0.1,
        MeasureMode::Duty => 5.0,
        MeasureMode::Hertz => 10.0,
        _ => 0.2,
    }
}

pub(super) fn judge(
    mode: MeasureMode,
    value: ObservedValue,
    test: Option<&Test>,
    expected: Option<&Expected>,
) -> Judged {
    let healthy = expected.map(|expected| expected.healthy);
    match (value, healthy) {
        (ObservedValue::Number(number), _) => of_number(number, mode, test, healthy),
        // Over-limit: good where a healthy circuit shows no number either.
        (ObservedValue::OverLimit, Some(None)) => Judged::Good,
        (ObservedValue::OverLimit, Some(Some(_))) => Judged::High,
        _ => Judged::Unknown,
    }
}

fn of_number(number: f64, mode: MeasureMode, test: Option<&Test>, healthy: Option<Option<f64>>) -> Judged {
    let limits = test.and_then(|test| test.limits.as_ref());
    if let Some(limits) = limits {
        return match (limits.min, limits.max) {
            (Some(min), _) if number < min => Judged::Low,
            (_, Some(max)) if number > max => Judged::High,
            _ => Judged::Good,
        };
    }
    match healthy {
        Some(Some(healthy)) => {
            let most = floor(mode) + SHARE * healthy.abs();
            if (number - healthy).abs() <= most {
                Judged::Good
            } else if number < healthy {
                Judged::Low
            } else {
                Judged::High
            }
        }
        // A number where a healthy circuit shows none.
        Some(None) => Judged::Low,
        None => Judged::Unknown,
    }
}
