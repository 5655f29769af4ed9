//! What may be done now, and why not: every rule of a job, in one place. The screens and the command line show these
//! verdicts; they hold no rule of their own.

mod approval;
mod billing;
mod circuit;
mod finding;
mod money;
mod parts;
mod payment;
mod proof;
mod reading;
pub mod region;
pub mod seen;
pub mod writing;

pub use approval::LONGEST_REQUEST;
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
        ("keep_estimate", not_handed_over(job)),
        ("approve", approve(job)),
        ("waive_estimate", writing::waive(job)),
        ("withdraw_approval", approval::withdraw(job)),
        ("receive_part", receive_part(job)),
        ("decide_programming", Ok(())),
        ("report_programming", report_programming(job)),
        ("prove_fix", prove_fix(job)),
        ("keep_invoice", keep_invoice(job)),
        ("keep_credit_note", payment::credit(job)),
        ("keep_payment", payment::pay(job)),
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
    /// The shop's registration number as the settings hold it now; asked for by estimates and bills only.
    pub registration: &'a str,
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
        Event::EstimateKept(event) => {
            money::estimate(job, event).and_then(|()| region::estimate(standing, event))
        }
        Event::EstimateWaived(event) => writing::waived(job, event),
        Event::ApprovalRequested(event) => approval::requested(job, event),
        Event::ApprovalKept(event) => approval::kept(job, event),
        Event::ApprovalWithdrawn(event) => approval::withdrawn(job, event),
        Event::InvoiceKept(event) => {
            region::invoice(standing, event).and_then(|()| billing::kept(job, event))
        }
        Event::CreditNoteKept(event) => payment::credited(job, event),
        Event::PaymentKept(event) => payment::kept(job, event),
        Event::SupplierStepKept(event) => payment::supplier(event),
        Event::PartReceived(event) => parts::received(job, event),
        Event::ProgrammingDecided(event) => parts::decided(event),
        Event::ProgrammingReported(event) => parts::reported(job, event),
        Event::HandedOver(event) => hand_over(job).and_then(|()| region::handed_over(job, event)),
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

/// The latest version of the estimate, once; what was declined or put off may be answered again.
fn approve(job: &Job) -> Permission {
    not_handed_over(job)?;
    require(job.latest_estimate().is_some(), "no_estimate")?;
    let whole = job.latest_answer().is_some_and(|answer| answer.event.approves_all());
    require(!whole, "already_approved")
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
    not_handed_over(job)?;
    require(job.approval_in_force().is_some(), "nothing_approved")
}

/// The vehicle goes back with its invoice.
fn hand_over(job: &Job) -> Permission {
    require(!job.invoices.is_empty(), "no_invoice")
}

/// After the vehicle went back, what was agreed and billed is only corrected: by credit notes, payments and refunds.
fn not_handed_over(job: &Job) -> Permission {
    require(job.handed_over.is_none(), "handed_over_already")
}

fn require(met: bool, reason: &'static str) -> Permission {
    if met { Ok(()) } else { Err(Refused::because(reason)) }
}
