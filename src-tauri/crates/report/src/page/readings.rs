//! Every reading with what decides its meaning; a correction stands right after what it corrects.

use super::expected::Expected;
use super::wording::Wording;
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

pub(crate) fn rows(job: &Job, wording: &Wording) -> Vec<ReadingRow> {
    let mut shown: Vec<u32> = Vec::new();
    for reading in &job.readings {
        let mut next = Some(reading);
        while let Some(here) = next.filter(|r| !shown.contains(&r.number)) {
            shown.push(here.number);
            next = here.corrected_by.and_then(|record| job.reading(&record));
        }
    }
    let by_number = |number: &u32| job.readings.iter().find(|r| r.number == *number);
    let mut before: Option<&Reading> = None;
    let rows = shown.iter().filter_map(by_number).map(|reading| {
        // What stays as it was in the row above isn't said again.
        let same = before.is_some_and(|before| before.reading.state == reading.reading.state);
        before = Some(reading);
        row(reading, same, job, wording)
    });
    rows.collect()
}

/// Name of what was measured: the test's, else where the leads were.
pub(crate) fn name(reading: &Reading, wording: &Wording) -> String {
    let kept = &reading.reading;
    match wording.test(&kept.test) {
        Some(test) => wording.text(&test.name).to_owned(),
        None if kept.test.is_empty() => wording.say("reading_plain", &[]),
        None => kept.test.clone(),
    }
}

fn row(reading: &Reading, same_state: bool, job: &Job, wording: &Wording) -> ReadingRow {
    let kept = &reading.reading;
    let expected = Expected::of(reading, job, wording);
    let computed = || expected.healthy.map(|_| wording.say("expected_computed", &[]));
    ReadingRow {
        number: reading.number,
        when: wording.date(&reading.wall),
        name: name(reading, wording),
        how: how(reading, same_state, wording),
        value: wording.shown(kept),
        corrected: reading.corrected_by.is_some(),
        remark: remark(reading, job, wording),
        good: expected.words(kept.unit, wording),
        good_from: expected.source.clone().or_else(computed),
        photos: wording.photos(&kept.photos),
    }
}

fn how(reading: &Reading, same_state: bool, wording: &Wording) -> Vec<String> {
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
    let states = kept.state.iter().filter(|_| !same_state);
    let state: Vec<String> = states.map(|(what, position)| wording.state(what, position)).collect();
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
