//! What a good circuit shows at a reading, and whether the reading shows it.

use super::limit_source::limit_source;
use super::result::{decimal, list};
use super::wording::Wording;
use job::measured::{Unit, from_base_unit};
use job::{Job, Reading};

/// What is expected of a reading, in the unit that it was read in.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Expected {
    /// Least good value by the test's limit.
    pub min: Option<f64>,
    /// Highest good value by the test's limit.
    pub max: Option<f64>,
    /// What the finding computed for a healthy circuit; only where there is no limit.
    pub healthy: Option<f64>,
    /// Where the limit comes from, as the circuit file says it.
    pub source: Option<String>,
}

impl Expected {
    /// By the test's limit, else by the newest finding that weighed the reading.
    pub fn of(reading: &Reading, job: &Job, wording: &Wording) -> Expected {
        let unit = reading.reading.unit;
        let shown = |value: f64| from_base_unit(value, unit).unwrap_or(value);
        let limits = wording.test(&reading.reading.test).and_then(|test| test.limits.as_ref());
        match limits {
            Some(limits) => Expected {
                min: limits.min.map(shown),
                max: limits.max.map(shown),
                healthy: None,
                source: Some(limit_source(&limits.source, wording.language)),
            },
            None => {
                let healthy = complaint_gone(reading, wording).or_else(|| healthy(reading, job));
                Expected { healthy: healthy.map(shown), ..Expected::default() }
            }
        }
    }

    /// Whether the reading is good. `None` where nothing says so: without a limit only yes and no are plain enough.
    pub fn is_met(&self, reading: &Reading, job: &Job) -> Option<bool> {
        let value = job::counted(job, &reading.reading);
        if reading.reading.unit == Unit::YesNo {
            return self.healthy.map(|healthy| value == if healthy >= 0.5 { "yes" } else { "no" });
        }
        if self.min.is_none() && self.max.is_none() {
            return None;
        }
        // An over-range display lies above every limit.
        let value = if value == "OL" { f64::INFINITY } else { value.parse().ok()? };
        Some(self.min.is_none_or(|min| value >= min) && self.max.is_none_or(|max| value <= max))
    }

    /// In words: "at least 11.4 V", "about 12.4 V", "yes".
    pub fn words(&self, unit: Unit, wording: &Wording) -> String {
        let shown = |value: f64| wording.value(&significant(value), unit);
        match (self.min, self.max, self.healthy) {
            (Some(min), Some(max), _) => {
                wording.say("expected_between", &[("min", &shown(min)), ("max", &shown(max))])
            }
            (Some(min), None, _) => wording.say("expected_at_least", &[("min", &shown(min))]),
            (None, Some(max), _) => wording.say("expected_at_most", &[("max", &shown(max))]),
            (None, None, Some(healthy)) if unit == Unit::YesNo => {
                wording.value(if healthy >= 0.5 { "yes" } else { "no" }, unit)
            }
            (None, None, Some(healthy)) => wording.say("expected_healthy", &[("value", &shown(healthy))]),
            (None, None, None) => wording.say("expected_unknown", &[]),
        }
    }
}

/// The answer that shows no complaint, at the test that shows it: 1 for yes.
fn complaint_gone(reading: &Reading, wording: &Wording) -> Option<f64> {
    let complaint = &wording.circuit()?.complaint;
    (complaint.test == reading.reading.test).then_some(if complaint.answer { 0.0 } else { 1.0 })
}

/// The healthy value of the newest finding that weighed this reading, in volts, ohms or amps.
fn healthy(reading: &Reading, job: &Job) -> Option<f64> {
    let record = reading.record.to_string();
    job.findings.iter().rev().find_map(|kept| {
        let expected = list(&kept.event.result, "expected").iter();
        let mine = expected.clone().find(|e| e.get("observation").and_then(|o| o.as_str()) == Some(&record));
        decimal(mine?.get("healthy"))
    })
}

/// Three significant digits, without trailing zeros.
fn significant(value: f64) -> String {
    let whole_digits = value.abs().log10().floor().clamp(-6.0, 9.0) + 1.0;
    let decimals = (3.0 - whole_digits).clamp(0.0, 6.0);
    // Bounded just above; a comparison table would say the same in more lines.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let text = format!("{value:.*}", decimals as usize);
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

#[cfg(test)]
mod tests {
    use super::significant;

    #[test]
    fn limits_are_printed_as_fine_as_they_are_meant() {
        for (value, shown) in [
            (11.5, "11.5"),
            (0.2, "0.2"),
            (12.384, "12.4"),
            (0.0, "0"),
            (85.04, "85"),
            (1234.5, "1234"),
            (0.0512, "0.0512"),
        ] {
            assert_eq!(significant(value), shown);
        }
    }
}
