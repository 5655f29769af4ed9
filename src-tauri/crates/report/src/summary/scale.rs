//! A straight scale with the good zone on it: where a value lies before and after.

use crate::page::expected::Expected;
use job::{Job, Reading};
use serde::Serialize;

/// Shares of the scale's length, 0 to 1.
#[derive(Serialize)]
pub(crate) struct Scale {
    /// Where the good zone begins and ends.
    pub(crate) good: (f64, f64),
    pub(crate) before: f64,
    pub(crate) after: Option<f64>,
    /// What stands at the scale's ends, in the unit of the readings.
    #[serde(skip)]
    pub(crate) ends: (f64, f64),
}

/// Beyond the highest value, so that its mark stands clear of the end.
const AIR: f64 = 1.06;

impl Scale {
    /// Nothing where a value is no number or no limit says what is good.
    pub fn of(expected: &Expected, before: &Reading, after: Option<&Reading>, job: &Job) -> Option<Scale> {
        let number = |reading: &Reading| job::counted(job, &reading.reading).parse::<f64>().ok();
        let first = number(before)?;
        let second = after.and_then(number);
        let limits = [expected.min, expected.max];
        if limits.iter().all(Option::is_none) || (after.is_some() && second.is_none()) {
            return None;
        }
        let all = || limits.into_iter().flatten().chain([first]).chain(second);
        let low = all().fold(0.0, f64::min);
        let high = all().fold(low, f64::max) * AIR;
        // All of it at one spot: nothing to draw.
        let length = Some(high - low).filter(|length| *length > 0.0)?;
        let at = |value: f64| ((value - low) / length).clamp(0.0, 1.0);
        Some(Scale {
            good: (at(expected.min.unwrap_or(low)), at(expected.max.unwrap_or(high))),
            before: at(first),
            after: second.map(at),
            ends: (low, high),
        })
    }
}
