//! Estimates and what the customer said to them.

use super::money::{cents, line, totals};
use super::{code, photos};
use crate::view::*;
use ::job::event::{ApprovalKept, ApprovalRequested, EstimateKept, EstimateWaived};
use ::job::rule::writing;
use ::job::{Job, Kept};
use ::money::Line;

/// A version of the estimate with the approval that holds, and what changed in it.
pub(crate) fn estimate(job: &Job, kept: &Kept<EstimateKept>) -> EstimateView {
    let answers = || job.approvals.iter().filter(|answer| answer.event.estimate == kept.record);
    let holds = |answer: &&Kept<ApprovalKept>| answer.event.approves() && !job.is_withdrawn(answer);
    let approval = answers().rfind(holds);
    let before = job.estimates.iter().take_while(|earlier| earlier.record != kept.record).last();
    EstimateView {
        record: kept.record.to_string(),
        version: kept.event.estimate.version,
        kept: kept.wall.clone(),
        lines: kept.event.estimate.lines.iter().map(line).collect(),
        totals: totals(&kept.event.totals, kept.event.estimate.taxation()),
        approved_by: approval.map(|a| a.record.to_string()).unwrap_or_default(),
        answered: answers().next().is_some(),
        holds_until: writing::holds_until(job, kept).map(|day| day.to_string()).unwrap_or_default(),
        changes: before
            .map(|before| changes(&before.event.estimate.lines, &kept.event.estimate.lines))
            .unwrap_or_default(),
    }
}

/// Lines are the same by kind and words; of several alike the first counts.
fn changes(before: &[Line], now: &[Line]) -> Vec<LineChange> {
    let same = |a: &Line, b: &Line| a.kind == b.kind && a.description.trim() == b.description.trim();
    let amount = |line: &Line| line.amount().map(cents).unwrap_or_default();
    let change = |change: &str, line: &Line, before: String, now: String| LineChange {
        change: change.to_owned(),
        description: line.description.clone(),
        before,
        now,
    };
    let mut changes = Vec::new();
    for line in now {
        match before.iter().find(|earlier| same(earlier, line)) {
            None => changes.push(change("added", line, String::new(), amount(line))),
            Some(earlier) if earlier != line => {
                changes.push(change("changed", line, amount(earlier), amount(line)));
            }
            Some(_) => {}
        }
    }
    let gone = before.iter().filter(|earlier| !now.iter().any(|line| same(earlier, line)));
    changes.extend(gone.map(|line| change("removed", line, amount(line), String::new())));
    changes
}

/// An approval.
pub(crate) fn approval(job: &Job, kept: &Kept<ApprovalKept>) -> ApprovalView {
    let event = &kept.event;
    ApprovalView {
        record: kept.record.to_string(),
        version: event.version,
        kept: kept.wall.clone(),
        given_at: event.given_at.clone(),
        name: event.name.clone(),
        channel: event.channel,
        amount: event.amount.into(),
        words: event.words.clone(),
        old_parts: event.old_parts,
        signature: event.signature.clone(),
        answers: answers(job, event),
        signer: event.signer,
        conditions: event.conditions.clone(),
        number_called: event.number_called.clone(),
        called_by: event.called_by.clone(),
        photos: photos(job, &event.photos),
        in_force: job.approval_in_force().is_some_and(|holds| holds.record == kept.record),
        withdrawn: job.withdrawn.get(&kept.record).map(|back| ApprovalWithdrawalView {
            kept: back.wall.clone(),
            channel: back.event.channel,
            name: back.event.name.clone(),
            words: back.event.words.clone(),
        }),
    }
}

fn answers(job: &Job, event: &ApprovalKept) -> Vec<LineAnswerView> {
    if event.answers.is_empty() {
        return Vec::new();
    }
    let estimate = job.estimate_of(event);
    let lines = estimate.iter().flat_map(|kept| &kept.event.estimate.lines).enumerate();
    let answer = |(place, line): (usize, &Line)| LineAnswerView {
        description: line.description.clone(),
        amount: line.amount().map(cents).unwrap_or_default(),
        answer: code(&event.answer(place)),
    };
    lines.map(answer).collect()
}

/// A waiver of the written estimate.
pub(crate) fn waiver(kept: &Kept<EstimateWaived>) -> WaiverView {
    WaiverView {
        record: kept.record.to_string(),
        kept: kept.wall.clone(),
        channel: kept.event.channel,
        name: kept.event.name.clone(),
        words: kept.event.words.clone(),
        signature: kept.event.signature.clone(),
    }
}

/// A question that went out.
pub(crate) fn approval_request(kept: &Kept<ApprovalRequested>) -> ApprovalRequestView {
    ApprovalRequestView {
        record: kept.record.to_string(),
        kept: kept.wall.clone(),
        version: kept.event.version,
        channel: kept.event.channel,
        language: kept.event.language.clone(),
        text: kept.event.text.clone(),
        to: kept.event.to.clone(),
    }
}
