//! Every reading with what decides its meaning; a correction stands right after what it corrects.

use super::result::{decimal, list};
use super::wording::Wording;
use job::measured::{Unit, from_base_unit};
use job::{Job, Reading};
use serde::Serialize;

/// One reading.
#[derive(Serialize)]
pub(crate) struct ReadingRow {
    number: u32,
    when: String,
    name: String,
    how: Vec<String>,
    value: String,
    corrected: bool,
    remark: Option<String>,
    good: String,
    good_from: Option<String>,
    photos: Option<String>,
}

pub(super) fn rows(job: &Job, wording: &Wording) -> Vec<ReadingRow> {
    let mut shown: Vec<u32> = Vec::new();
    for reading in &job.readings {
        let mut next = Some(reading);
        while let Some(here) = next.filter(|r| !shown.contains(&r.number)) {
            shown.push(here.number);
            next = here.corrected_by.and_then(|record| job.reading(&record));
        }
    }
    let by_number = |number: &u32| job.readings.iter().find(|r| r.number == *number);
    shown.iter().filter_map(by_number).map(|reading| row(reading, job, wording)).collect()
}

/// Name of what was measured: the test's, else where the leads were.
pub(super) fn name(reading: &Reading, wording: &Wording) -> String {
    let kept = &reading.reading;
    match wording.test(&kept.test) {
        Some(test) => wording.text(&test.name).to_owned(),
        None if kept.test.is_empty() => wording.say("reading_plain", &[]),
        None => kept.test.clone(),
    }
}

fn row(reading: &Reading, job: &Job, wording: &Wording) -> ReadingRow {
    let kept = &reading.reading;
    let (good, good_from) = expected(reading, job, wording);
    ReadingRow {
        number: reading.number,
        when: wording.date(&reading.wall),
        name: name(reading, wording),
        how: how(reading, wording),
        value: wording.shown(kept),
        corrected: reading.corrected_by.is_some(),
        remark: remark(reading, job, wording),
        good,
        good_from,
        photos: wording.photos(&kept.photos),
    }
}

fn how(reading: &Reading, wording: &Wording) -> Vec<String> {
    let kept = &reading.reading;
    let named = [&kept.red, &kept.black, &kept.red_pin, &kept.black_pin];
    let leads = named.iter().any(|place| !place.is_empty()).then(|| {
        let red = wording.lead(&kept.red, &kept.red_pin);
        let black = wording.lead(&kept.black, &kept.black_pin);
        wording.say("reading_leads", &[("red", &red), ("black", &black)])
    });
    let mode = [Some(wording.code_of("mode", &kept.mode)), leads]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(", ");
    let state: Vec<String> =
        kept.state.iter().map(|(what, position)| wording.state(what, position)).collect();
    let load =
        (!kept.load.is_empty()).then(|| wording.say("reading_load", &[("load", &wording.load(&kept.load))]));
    let state = state.into_iter().chain(load).collect::<Vec<_>>().join("; ");
    let condition = kept.condition.as_ref().map(|condition| wording.code_of("provoke", condition));
    let lines = [
        Some(mode),
        Some(state),
        condition,
        Some(wording.code_of("complaint_present", &kept.complaint_present)),
        wording.say_if("reading_note", "note", &kept.note),
    ];
    lines.into_iter().flatten().filter(|line| !line.is_empty()).collect()
}

fn remark(reading: &Reading, job: &Job, wording: &Wording) -> Option<String> {
    let number =
        |record: &evidence::Digest| job.reading(record).map_or_else(String::new, |r| r.number.to_string());
    let replaced = |by| wording.say("reading_corrected_by", &[("number", &number(by))]);
    let corrected = match &reading.corrected_by {
        Some(_) if reading.withdrawn => Some(wording.say("reading_withdrawn", &[])),
        by => by.as_ref().map(replaced),
    };
    let corrects = reading.corrects.as_ref().map(|(target, reason)| {
        let key = if reason.trim().is_empty() { "reading_corrects" } else { "reading_corrects_why" };
        wording.say(key, &[("number", &number(target)), ("reason", reason)])
    });
    let remarks: Vec<String> = [corrects, corrected].into_iter().flatten().collect();
    (!remarks.is_empty()).then(|| remarks.join(". "))
}

/// What a good circuit shows and where that comes from: the test's limit, else what the finding computed.
fn expected(reading: &Reading, job: &Job, wording: &Wording) -> (String, Option<String>) {
    let unit = reading.reading.unit;
    let shown = |value: f64| {
        let value = from_base_unit(value, unit).unwrap_or(value);
        wording.value(&significant(value), unit)
    };
    let limits = wording.test(&reading.reading.test).and_then(|test| test.limits.as_ref());
    if let Some(limits) = limits {
        let said = match (limits.min, limits.max) {
            (Some(min), Some(max)) => {
                wording.say("expected_between", &[("min", &shown(min)), ("max", &shown(max))])
            }
            (Some(min), None) => wording.say("expected_at_least", &[("min", &shown(min))]),
            (None, Some(max)) => wording.say("expected_at_most", &[("max", &shown(max))]),
            (None, None) => wording.say("expected_unknown", &[]),
        };
        return (said, Some(limits.source.clone()));
    }
    match healthy(reading, job) {
        Some(value) => {
            let value = if unit == Unit::YesNo { wording.value(yes_no(value), unit) } else { shown(value) };
            let said = if unit == Unit::YesNo {
                value
            } else {
                wording.say("expected_healthy", &[("value", &value)])
            };
            (said, Some(wording.say("expected_computed", &[])))
        }
        None => (wording.say("expected_unknown", &[]), None),
    }
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

fn yes_no(value: f64) -> &'static str {
    if value >= 0.5 { "yes" } else { "no" }
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
