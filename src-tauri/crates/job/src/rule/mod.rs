//! What may be done now, and why not: every rule of a job, in one place. The screens and the command line show these
//! verdicts; they hold no rule of their own.

mod circuit;
mod finding;
mod money;
mod parts;
mod proof;
mod reading;

pub(crate) use proof::same_test;

use crate::refused::{Permission, Refused};
use crate::{Event, Job, Reasoning};
use ::circuit::Diagnosis;
use std::collections::BTreeMap;

/// Verdicts by action.
pub fn permissions(job: &Job, reasoning: Option<&Reasoning>) -> BTreeMap<&'static str, Permission> {
    BTreeMap::from([
        ("keep_reading", keep_reading(job)),
        ("keep_finding", keep_finding(job)),
        ("call_module", call_module(reasoning)),
        ("keep_estimate", Ok(())),
        ("approve", approve(job)),
        ("receive_part", receive_part(job)),
        ("decide_programming", Ok(())),
        ("report_programming", report_programming(job)),
        ("prove_fix", prove_fix(job)),
        ("keep_invoice", keep_invoice(job)),
        ("hand_over", hand_over(job)),
        ("write_report", Ok(())),
        ("write_packet", Ok(())),
    ])
}

/// A job as it stands when a record asks to be added to it.
#[derive(Clone, Copy, Debug)]
pub struct Standing<'a> {
    /// The job.
    pub job: &'a Job,
    /// What its readings prove; asked for by findings only.
    pub diagnosis: Option<&'a Diagnosis>,
}

/// What a record demands of the job as it stands. Asked while nobody else can write, so that what it allows is still so
/// when the record is sealed.
///
/// # Errors
/// The first demand that isn't met.
pub fn demands(standing: &Standing<'_>, event: &Event) -> Permission {
    let job = standing.job;
    // A customer can be forgotten, and a time be stated, also where the record that opens the job can't be used.
    let always = matches!(event, Event::CustomerForgotten(_) | Event::Timestamp(_));
    require(always || job.is_opened() != matches!(event, Event::JobOpened(_)), "job_unreadable")?;
    known_photos(job, event)?;
    match event {
        Event::PinNoted(event) => circuit::pin(job, event),
        Event::TestUnreachable(event) => circuit::test(job, event),
        Event::CautionAcknowledged(event) => circuit::caution(event),
        Event::ReadingKept(event) => reading::kept(job, event),
        Event::ReadingCorrected(event) => reading::corrected(job, event),
        Event::FindingKept(event) => finding::kept(standing, event),
        Event::FixProven(event) => proof::kept(job, event),
        Event::EstimateKept(event) => money::estimate(job, event),
        Event::ApprovalKept(event) => money::approval(job, event),
        Event::InvoiceKept(event) => money::invoice(job, event),
        Event::PartReceived(event) => parts::received(job, event),
        Event::ProgrammingDecided(event) => parts::decided(event),
        Event::ProgrammingReported(event) => parts::reported(job, event),
        Event::HandedOver(_) => hand_over(job),
        _ => Ok(()),
    }
}

/// Photos are kept before a record names them.
fn known_photos(job: &Job, event: &Event) -> Permission {
    if matches!(event, Event::PhotoKept(_)) {
        return Ok(());
    }
    let mut named = event.photos();
    if let Event::PhotoMissing(event) = event {
        named.extend(event.missing.iter().map(|lost| lost.original));
    }
    match named.iter().find(|photo| !job.photos.contains_key(photo)) {
        Some(photo) => Err(Refused::unknown("photo", &photo.to_string())),
        None => Ok(()),
    }
}

/// A reading needs points for its leads and a meter whose errors are known.
fn keep_reading(job: &Job) -> Permission {
    require(job.circuit.is_some(), "choose_circuit_first")?;
    require(job.meter.is_some(), "choose_meter_first")
}

/// A finding rests on readings.
fn keep_finding(job: &Job) -> Permission {
    require(job.circuit.is_some(), "choose_circuit_first")?;
    require(job.valid_readings().next().is_some(), "no_reading_yet")
}

/// The module may be called only when nothing is missing.
fn call_module(reasoning: Option<&Reasoning>) -> Permission {
    let open = reasoning.is_some_and(|r| r.diagnosis.modules.iter().any(|m| m.may_be_called));
    require(open, "module_not_proven")
}

/// The latest version of the estimate, once.
fn approve(job: &Job) -> Permission {
    require(job.latest_estimate().is_some(), "no_estimate")?;
    require(!job.latest_estimate_is_approved(), "already_approved")
}

/// Parts are bought after the customer said yes.
fn receive_part(job: &Job) -> Permission {
    require(job.approval_in_force().is_some(), "nothing_approved")?;
    require(!job.findings.is_empty(), "no_finding")
}

/// An outcome needs a decision.
fn report_programming(job: &Job) -> Permission {
    require(job.programming_decision().is_some(), "no_programming_decision")
}

/// A proof needs a reading from before and one from after the repair.
fn prove_fix(job: &Job) -> Permission {
    require(job.valid_readings().any(|r| r.after_repair), "no_reading_after_repair")?;
    require(job.valid_readings().any(|r| !r.after_repair), "no_reading_yet")
}

/// Nothing is billed that nobody approved.
fn keep_invoice(job: &Job) -> Permission {
    require(job.approval_in_force().is_some(), "nothing_approved")
}

/// The vehicle goes back with its invoice.
fn hand_over(job: &Job) -> Permission {
    require(job.invoice.is_some(), "no_invoice")
}

fn require(met: bool, reason: &'static str) -> Permission {
    if met { Ok(()) } else { Err(Refused::because(reason)) }
}
