//! What asking for an approval, an approval and its withdrawal demand.

use super::{approve, require, writing};
use crate::event::{ApprovalKept, ApprovalRequested, ApprovalWithdrawn, Channel, EstimateKept};
use crate::refused::{Permission, Refused};
use crate::{Balance, Job, Kept, agreed, contact};
use chrono::{DateTime, FixedOffset};
use money::Cents;

/// Longest message that asks for an approval, characters: three text messages of 160.
pub const LONGEST_REQUEST: usize = 480;

/// The latest version is asked about, in words that fit a message.
pub(super) fn requested(job: &Job, asked: &ApprovalRequested) -> Permission {
    approve(job)?;
    let latest = job.latest_estimate().ok_or_else(|| Refused::because("no_estimate"))?;
    let same = latest.record == asked.estimate && latest.event.estimate.version == asked.version;
    require(same, "not_the_latest_version")?;
    filled("text", &asked.text)?;
    if asked.text.chars().count() > LONGEST_REQUEST {
        return Err(Refused::because("message_too_long").with("letters", &LONGEST_REQUEST.to_string()));
    }
    match asked.channel {
        _ if asked.to.trim().is_empty() => Ok(()),
        Channel::Email => contact::email(&asked.to),
        Channel::InPerson | Channel::Phone | Channel::TextMessage => contact::phone(&asked.to),
    }
}

/// The latest version, each line answered, up to no more than the approved lines come to; with a signature where the
/// customer is here, the number that was called, the message that came.
pub(super) fn kept(job: &Job, kept: &ApprovalKept) -> Permission {
    approve(job)?;
    let latest = job.latest_estimate().ok_or_else(|| Refused::because("no_estimate"))?;
    let estimate = &latest.event;
    let same = estimate.estimate.version == kept.version && latest.record == kept.estimate;
    require(same, "not_the_latest_version")?;
    let complete = kept.answers.is_empty() || kept.answers.len() == estimate.estimate.lines.len();
    require(complete, "answers_incomplete")?;
    let total = if kept.approves() { approved(estimate, kept)? } else { Cents::ZERO };
    if kept.amount > total {
        return Err(Refused::because("approval_over_estimate")
            .with("field", "limit")
            .with("asked", &String::from(kept.amount))
            .with("total", &String::from(total)));
    }
    require(kept.amount > Cents::ZERO || total == Cents::ZERO, "approval_of_nothing")?;
    filled("name", &kept.name)?;
    by_channel(kept)?;
    if let Ok(given) = DateTime::parse_from_rfc3339(&kept.given_at) {
        after_estimate(latest, given)?;
        // A no is never too late.
        if kept.approves() {
            writing::in_time(job, latest, given)?;
        }
    }
    writing::approved(job, latest, kept)
}

/// Nobody says yes to what isn't written yet. A yes is typed to the minute.
fn after_estimate(estimate: &Kept<EstimateKept>, given: DateTime<FixedOffset>) -> Permission {
    let Ok(written) = DateTime::parse_from_rfc3339(&estimate.wall) else { return Ok(()) };
    let minute = |at: DateTime<FixedOffset>| at.timestamp().div_euclid(60);
    if minute(given) >= minute(written) {
        return Ok(());
    }
    let version = estimate.event.estimate.version.to_string();
    let written = written.format("%Y-%m-%dT%H:%M:%S%:z").to_string();
    Err(Refused::because("approval_before_estimate")
        .with("field", "given_at")
        .with("version", &version)
        .with("moment", &written))
}

fn approved(estimate: &crate::event::EstimateKept, kept: &ApprovalKept) -> Result<Cents, Refused> {
    let total = agreed::approved_total(estimate, &kept.answers);
    total.map_err(|error| Refused::because("money_refused").with("detail", &error.to_string()))
}

/// What each way of answering leaves behind.
fn by_channel(kept: &ApprovalKept) -> Permission {
    match kept.channel {
        Channel::InPerson if kept.approves() => signed(&kept.signature),
        Channel::InPerson => Ok(()),
        Channel::Phone => {
            filled("number_called", &kept.number_called)?;
            contact::phone(&kept.number_called)
        }
        Channel::TextMessage | Channel::Email => {
            require(!kept.words.is_empty() || !kept.photos.is_empty(), "no_message_kept")
        }
    }
}

/// A signature is there, and more than a stray touch.
pub(super) fn signed(signature: &str) -> Permission {
    require(!signature.is_empty(), "no_signature")?;
    require(longest_stroke(signature) >= SHORTEST_STROKE, "signature_too_short")
}

/// Something is approved, and not billed yet.
pub(super) fn withdraw(job: &Job) -> Permission {
    require(job.approval_in_force().is_some(), "nothing_approved")?;
    let balance = Balance::of(job).unwrap_or_default();
    require(balance.billed <= balance.credited, "already_billed")
}

/// The approval in force, by somebody with a name.
pub(super) fn withdrawn(job: &Job, kept: &ApprovalWithdrawn) -> Permission {
    withdraw(job)?;
    let in_force = job.approval_in_force().map(|approval| approval.record);
    require(in_force == Some(kept.approval), "not_in_force")?;
    filled("name", &kept.name)
}

pub(super) fn filled(field: &str, text: &str) -> Permission {
    if text.trim().is_empty() { Err(Refused::because("field_empty").with("field", field)) } else { Ok(()) }
}

/// Shortest stroke that counts as a signature, in the units of its box of 600 by 200: a dot from a stray touch doesn't.
const SHORTEST_STROKE: f64 = 40.0;

/// Length of the longest stroke of a path of moves (`M x y`) and lines (`L x y`).
fn longest_stroke(path: &str) -> f64 {
    let mut longest: f64 = 0.0;
    for stroke in path.split('M') {
        let numbers = stroke.split(|c: char| c == 'L' || c == ',' || c.is_whitespace());
        let numbers: Vec<f64> = numbers.filter_map(|number| number.parse().ok()).collect();
        let places: Vec<(f64, f64)> =
            numbers.chunks_exact(2).filter_map(|pair| Some((*pair.first()?, *pair.get(1)?))).collect();
        let steps = places.iter().zip(places.iter().skip(1));
        longest = longest.max(steps.map(|(a, b)| (b.0 - a.0).hypot(b.1 - a.1)).sum());
    }
    longest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dot_is_no_signature() {
        assert_eq!(longest_stroke(""), 0.0);
        assert_eq!(longest_stroke("M10 10"), 0.0);
        assert_eq!(longest_stroke("M 10,10 L 13 14"), 5.0);
        assert_eq!(longest_stroke("M0 0 L3 4 L6 8 M0 0L1 0"), 10.0);
    }
}
