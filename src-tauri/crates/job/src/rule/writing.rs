//! What the rules of a region say about the written estimate: asked for before the first work, in writing or waived; and how
//! long an estimate holds.

use super::approval::{filled, signed};
use super::require;
use crate::event::{ApprovalKept, Channel, EstimateKept, EstimateWaived};
use crate::refused::{Permission, Refused};
use crate::rules::{self, Answer, RegionRules};
use crate::{Job, Kept};
use chrono::{DateTime, Datelike, FixedOffset, NaiveDate, Weekday};

/// Whether the estimate has to be in writing before this version may be approved: the rule is known, nothing was approved
/// before, the total is above the rule's amount, and the customer didn't waive it.
#[must_use]
pub fn wanted(job: &Job, estimate: &EstimateKept) -> bool {
    let rules = of(job);
    let above = rules.written_above_cents.is_none_or(|amount| estimate.totals.total > amount);
    let first = job.approval_in_force().is_none();
    rules.written_estimate == Answer::Yes && above && first && job.waived.is_empty()
}

/// Whether a version went to the customer in writing: in a message, or on paper.
#[must_use]
pub fn was_sent(job: &Job, estimate: &Kept<EstimateKept>) -> bool {
    job.requests
        .iter()
        .any(|request| request.event.estimate == estimate.record && in_writing(request.event.channel))
}

/// A yes by phone needs the estimate in the customer's hands; one in person is signed, one in a message is written.
pub(super) fn approved(job: &Job, estimate: &Kept<EstimateKept>, kept: &ApprovalKept) -> Permission {
    let spoken = kept.channel == Channel::Phone && kept.approves();
    if !spoken || !wanted(job, &estimate.event) || was_sent(job, estimate) {
        return Ok(());
    }
    let reason =
        if of(job).waiver == Answer::Yes { "estimate_not_written_or_waived" } else { "estimate_not_written" };
    Err(Refused::because(reason))
}

/// A yes comes within the time for which its estimate holds, where the rule counts one.
pub(super) fn in_time(job: &Job, estimate: &Kept<EstimateKept>, given: DateTime<FixedOffset>) -> Permission {
    let Some(until) = holds_until(job, estimate) else { return Ok(()) };
    if given.date_naive() <= until {
        return Ok(());
    }
    let version = estimate.event.estimate.version.to_string();
    Err(Refused::because("estimate_expired").with("version", &version).with("until", &until.to_string()))
}

/// The last day on which a version holds; nothing where the rule counts none. Saturdays and Sundays are no working days;
/// holidays, which nothing here knows, make it longer.
#[must_use]
pub fn holds_until(job: &Job, estimate: &Kept<EstimateKept>) -> Option<NaiveDate> {
    let days = of(job).estimate_valid_days?;
    let kept = DateTime::parse_from_rfc3339(&estimate.wall).ok()?.date_naive();
    let working = |day: &NaiveDate| !matches!(day.weekday(), Weekday::Sat | Weekday::Sun);
    let place = usize::try_from(days).ok()?.checked_sub(1)?;
    kept.iter_days().skip(1).filter(working).nth(place)
}

/// A waiver is known to the region's rule, comes before anything is approved, and is in writing.
pub(super) fn waived(job: &Job, kept: &EstimateWaived) -> Permission {
    waive(job)?;
    filled("name", &kept.name)?;
    filled("words", &kept.words)?;
    match kept.channel {
        Channel::InPerson => signed(&kept.signature),
        Channel::Phone => Err(Refused::because("waiver_not_written")),
        Channel::TextMessage | Channel::Email => Ok(()),
    }
}

pub(super) fn waive(job: &Job) -> Permission {
    super::not_handed_over(job)?;
    let known = of(job).written_estimate == Answer::Yes && of(job).waiver == Answer::Yes;
    require(known, "no_waiver_here")?;
    require(job.waived.is_empty(), "already_waived")
}

const fn in_writing(channel: Channel) -> bool {
    matches!(channel, Channel::TextMessage | Channel::Email | Channel::InPerson)
}

fn of(job: &Job) -> RegionRules {
    rules::of_region(&job.opened.region)
}
