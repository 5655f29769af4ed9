//! Who approved what, when, by which channel, up to which amount; with the drawn signature.

use super::signature;
use super::wording::Wording;
use job::event::ApprovalKept;
use job::{Job, Kept};
use money::LineAnswer;
use serde::Serialize;
use std::collections::BTreeMap;

/// One approval.
#[derive(Serialize)]
pub(crate) struct Approval {
    title: String,
    lines: Vec<String>,
    signature: Option<String>,
    alt: String,
}

/// When the customer said so: where older records don't say, when it was kept.
pub(crate) fn given(kept: &Kept<ApprovalKept>) -> &str {
    if kept.event.given_at.is_empty() { &kept.wall } else { &kept.event.given_at }
}

/// The approvals; their signatures are added to `files`.
pub(super) fn approvals(
    job: &Job,
    wording: &Wording,
    files: &mut BTreeMap<String, Vec<u8>>,
) -> Vec<Approval> {
    let approvals = job.approvals.iter().enumerate();
    approvals
        .map(|(index, kept)| {
            let event = &kept.event;
            let drawing = signature::signature_svg(&event.signature);
            let path = drawing.as_ref().map(|_| format!("signature-{index}.svg"));
            let lines = lines(job, kept, wording, drawing.is_some());
            if let (Some(path), Some(drawing)) = (&path, drawing) {
                files.insert(path.clone(), drawing.into_bytes());
            }
            let version = event.version.to_string();
            let title = [
                ("version", version.as_str()),
                ("amount", &wording.money(event.amount)),
                ("channel", &wording.code_of("approval_channel", &event.channel)),
                ("when", &wording.date(given(kept))),
            ];
            Approval {
                title: wording.say("approval_entry", &title),
                lines,
                signature: path,
                alt: wording.say("approval_signature_alt", &[("version", &version)]),
            }
        })
        .collect()
}

fn lines(job: &Job, kept: &Kept<ApprovalKept>, wording: &Wording, drawn: bool) -> Vec<String> {
    let event = &kept.event;
    let old_parts = Some(wording.code_of("approval_old_parts", &event.old_parts));
    let name =
        if event.name.trim().is_empty() { wording.say("none_withheld", &[]) } else { event.name.clone() };
    let signature = match (drawn, event.signature.trim().is_empty()) {
        (true, _) => None,
        (false, true) => Some("approval_no_signature"),
        (false, false) => Some("approval_signature_unreadable"),
    };
    let lines = [
        Some(wording.say("approval_name", &[("name", &name)])),
        wording.say_if("approval_words", "words", &event.words),
        old_parts,
        signature.map(|key| wording.say(key, &[])),
    ];
    let channel = [
        wording.say_if("approval_number_called", "number", &event.number_called),
        wording.say_if("approval_called_by", "name", &event.called_by),
        wording.say_if("approval_conditions", "conditions", &event.conditions),
    ];
    let lines = lines.into_iter().chain(channel).flatten().chain(answers(job, event, wording));
    lines.chain(withdrawn(job, kept, wording)).collect()
}

/// Lines that were not approved, by their words.
fn answers(job: &Job, event: &ApprovalKept, wording: &Wording) -> Vec<String> {
    let Some(estimate) = job.estimate_of(event) else { return Vec::new() };
    let numbered = estimate.event.estimate.lines.iter().enumerate();
    let said = numbered.filter_map(|(place, line)| {
        let key = match event.answer(place) {
            LineAnswer::Approved => return None,
            LineAnswer::Declined => "approval_declined",
            LineAnswer::Deferred => "approval_deferred",
        };
        Some(wording.say(key, &[("description", &line.description)]))
    });
    said.collect()
}

fn withdrawn(job: &Job, kept: &Kept<ApprovalKept>, wording: &Wording) -> Vec<String> {
    let Some(back) = job.withdrawn.get(&kept.record) else { return Vec::new() };
    let when = wording.date(&back.wall);
    let channel = wording.code_of("approval_channel", &back.event.channel);
    let first = wording.say("approval_withdrawn", &[("when", &when), ("channel", &channel)]);
    [Some(first), wording.say_if("approval_words", "words", &back.event.words)]
        .into_iter()
        .flatten()
        .collect()
}
