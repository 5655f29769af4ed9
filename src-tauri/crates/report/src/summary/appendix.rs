//! What stands behind the first page: readings one line each, who said yes to what, how to check, what it can't show.

use crate::FindingsInput;
use crate::page::approvals::given;
use crate::page::expected::Expected;
use crate::page::wording::Wording;
use crate::page::{notes, readings};
use job::{Job, Reading};
use serde::Serialize;

/// Rows, with a line of its own where the state changed.
#[derive(Serialize)]
pub(crate) struct Readings {
    pub(crate) intro: String,
    pub(crate) rows: Vec<Row>,
    pub(crate) note: Option<String>,
}

/// A row of the table.
#[derive(Serialize)]
#[serde(untagged)]
pub(crate) enum Row {
    /// The states from here on.
    State { state: String },
    Reading {
        number: u32,
        time: String,
        what: String,
        good: String,
        value: String,
        /// A later reading took its place.
        struck: bool,
        is_good: Option<bool>,
    },
}

impl Readings {
    pub fn of(job: &Job, wording: &Wording, most: usize) -> Readings {
        let total = job.readings.len();
        let left_out = total.saturating_sub(most);
        let mut rows = Vec::new();
        let (mut states_before, mut day_before) = (Vec::new(), String::new());
        for reading in job.readings.iter().skip(left_out) {
            let (day, states) = (wording.day(&reading.wall), states(reading, wording));
            let changed = states.iter().filter(|state| !states_before.contains(*state)).cloned();
            let line: Vec<String> =
                Some(day.clone()).filter(|day| *day != day_before).into_iter().chain(changed).collect();
            if !line.is_empty() {
                rows.push(Row::State { state: line.join(" · ") });
            }
            (states_before, day_before) = (states, day);
            rows.push(row(reading, job, wording));
        }
        let offset = job.readings.last().and_then(|reading| offset(&reading.wall)).unwrap_or_default();
        let (shown, total) = (total.saturating_sub(left_out).to_string(), total.to_string());
        let note = wording.say("summary_readings_note", &[("shown", &shown), ("total", &total)]);
        Readings {
            intro: wording.say_if("summary_clock", "offset", &offset).unwrap_or_default(),
            rows,
            note: (left_out > 0).then_some(note),
        }
    }
}

/// "-07:00" of a wall time with offset.
fn offset(wall: &str) -> Option<String> {
    chrono::DateTime::parse_from_rfc3339(wall).ok().map(|at| at.offset().to_string())
}

/// What was switched, fitted and plugged how.
fn states(reading: &Reading, wording: &Wording) -> Vec<String> {
    reading.reading.state.iter().map(|(what, position)| wording.state(what, position)).collect()
}

fn row(reading: &Reading, job: &Job, wording: &Wording) -> Row {
    let expected = Expected::of(reading, job, wording);
    Row::Reading {
        number: reading.number,
        time: wording.time_of_day(&reading.wall),
        what: readings::name(reading, wording),
        good: expected.words(reading.reading.unit, wording),
        value: wording.shown(&reading.reading),
        struck: reading.corrected_by.is_some(),
        is_good: expected.is_met(reading, job).filter(|_| reading.corrected_by.is_none()),
    }
}

/// One approval.
#[derive(Serialize)]
pub(crate) struct Yes {
    pub(crate) version: String,
    pub(crate) amount: String,
    pub(crate) who: String,
    pub(crate) said: String,
}

pub(super) fn approvals(job: &Job, wording: &Wording) -> Vec<Yes> {
    let approvals = job.approvals.iter().map(|kept| {
        let event = &kept.event;
        let name =
            if event.name.trim().is_empty() { wording.say("none_withheld", &[]) } else { event.name.clone() };
        let channel = wording.code_of("approval_channel", &event.channel);
        let when = wording.day_and_time(given(kept));
        let who = wording.say("summary_by", &[("name", &name), ("channel", &channel), ("when", &when)]);
        let back = job
            .withdrawn
            .get(&kept.record)
            .map(|back| wording.say("summary_withdrawn", &[("when", &wording.day_and_time(&back.wall))]));
        let said = [Some(event.words.clone()), Some(event.conditions.clone()), back];
        let said: Vec<String> = said.into_iter().flatten().filter(|text| !text.trim().is_empty()).collect();
        Yes {
            version: event.version.to_string(),
            amount: wording.money(event.amount),
            who,
            said: said.join(" · "),
        }
    });
    approvals.collect()
}

pub(super) fn how(wording: &Wording) -> Vec<String> {
    ["summary_how_words", "summary_how_packet", "summary_how_arbiter"].map(|key| wording.say(key, &[])).into()
}

pub(super) fn limits(input: &FindingsInput, wording: &Wording) -> Vec<String> {
    let job = input.job;
    let circuit =
        wording.circuit_title().map(|title| wording.say("summary_limit_circuit", &[("circuit", title)]));
    let doubts = notes::doubts(job, wording).len();
    let doubts = (doubts > 0).then(|| wording.say("summary_limit_doubts", &[("count", &doubts.to_string())]));
    let fixed = ["summary_limit_true", "summary_limit_clock"].map(|key| Some(wording.say(key, &[])));
    let rules = Some(wording.say("ending_rules", &[]));
    fixed.into_iter().chain([circuit, doubts, rules]).flatten().collect()
}
