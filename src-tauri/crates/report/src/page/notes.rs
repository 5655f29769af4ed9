//! Findings on record, doubts about clocks, and what comes before any reliance on the report.

use super::wording::Wording;
use super::{bottom, grounds};
use crate::{FindingsInput, words};
use job::event::{Event, FindingKept, Outcome};
use job::measured::Unit;
use job::{Job, Kept, TimelineRecord};

/// The technician's own words of the newest finding.
pub(crate) fn technician_words(job: &Job, wording: &Wording) -> Option<String> {
    wording.say_if("finding_words", "words", &job.findings.last()?.event.words)
}

/// Every finding, oldest first, with the engine and the circuit it rests on, and the meter.
pub(crate) fn findings(job: &Job, wording: &Wording) -> Vec<Vec<String>> {
    let mut findings: Vec<Vec<String>> =
        job.findings.iter().map(|kept| finding(kept, job, wording)).collect();
    findings.extend(meter(job, wording).map(|line| vec![line]));
    findings
}

fn finding(kept: &Kept<FindingKept>, job: &Job, wording: &Wording) -> Vec<String> {
    let event = &kept.event;
    let outcome = match event.outcome {
        Outcome::CauseCalled => "outcome_cause_called",
        Outcome::ModuleCalled => "outcome_module_called",
        Outcome::NotProven => "outcome_not_proven",
    };
    let cause = bottom::called_cause(event, wording);
    let likelihood =
        event.probability.parse().map_or_else(|_| String::new(), |p| words::likelihood(wording.language, p));
    let called: Vec<String> = [cause, likelihood].into_iter().filter(|part| !part.is_empty()).collect();
    let said = format!("{} {}", wording.say(outcome, &[]), called.join(", "));
    let circuit = wording.circuit_title().unwrap_or(&event.circuit);
    let engine = [("engine", event.engine.as_str()), ("circuit", circuit)];
    let when = wording.date(&kept.wall);
    let mut lines = vec![wording.say("finding_entry", &[("when", &when), ("outcome", said.trim())])];
    lines.extend(grounds::or_programming(event).then(|| wording.say("finding_or_programming", &[])));
    lines.extend(wording.say_if("finding_words", "words", &event.words));
    lines.extend(grounds::lines(event, job, wording));
    lines.push(wording.say("finding_engine", &engine));
    // The template sets the hash in its own face: it stays last.
    lines.push(event.circuit_sha256.to_string());
    lines
}

fn meter(job: &Job, wording: &Wording) -> Option<String> {
    let event = &job.meter.as_ref()?.event;
    let unnamed = wording.say("meter_unnamed", &[]);
    let values = [
        ("name", if event.name.trim().is_empty() { unnamed.as_str() } else { &event.name }),
        ("ohms", &ohms(&event.volts_input_ohms, wording)),
        ("percent", &event.accuracy_percent),
        ("counts", &event.accuracy_counts.to_string()),
    ];
    Some(wording.say("meter_entry", &values))
}

/// "10 MΩ" for "10000000"; what is no number as it is.
fn ohms(text: &str, wording: &Wording) -> String {
    let of = |value: f64, unit: Unit| wording.value(&value.to_string(), unit);
    match text.parse::<f64>() {
        Ok(value) if value >= 1e6 => of(value / 1e6, Unit::Megohm),
        Ok(value) if value >= 1e3 => of(value / 1e3, Unit::Kilohm),
        Ok(value) => of(value, Unit::Ohm),
        Err(_) => text.to_owned(),
    }
}

/// One sentence per doubt about a clock.
pub(crate) fn doubts(job: &Job, wording: &Wording) -> Vec<String> {
    job.timeline
        .iter()
        .flat_map(|record| record.doubts.iter().map(move |doubt| doubted(record, doubt.code(), wording)))
        .collect()
}

fn doubted(record: &TimelineRecord, code: &str, wording: &Wording) -> String {
    let photo = match &record.event {
        Some(Event::PhotoKept(photo)) => wording.photo(&photo.sha256),
        _ => None,
    };
    let (sequence, number) = (record.sequence.to_string(), photo.unwrap_or_default().to_string());
    let (when, doubt) = (wording.date(&record.wall), wording.code("doubt", code));
    let values = [("sequence", sequence.as_str()), ("number", &number), ("when", &when), ("doubt", &doubt)];
    wording.say(if photo.is_some() { "doubt_entry_photo" } else { "doubt_entry" }, &values)
}

/// The maker's information first, then local rules.
pub(crate) fn endings(input: &FindingsInput, wording: &Wording) -> Vec<String> {
    let region = wording.say_if("ending_rules_region", "region", &input.rules.region);
    let region = region.filter(|_| !input.rules.sources.is_empty());
    let first = [words::caution(wording.language, "comes_first"), wording.say("ending_rules", &[])];
    first.into_iter().chain(region).collect()
}
