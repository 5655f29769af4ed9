//! What may be done now, and why not. The screens and the command line show these verdicts; they hold no rule of their own.

use crate::{Event, Job, Reasoning};
use std::collections::BTreeMap;

/// Why something may not be done: a code for the words, with the values the sentence needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// Code.
    pub reason: &'static str,
    /// Values by name.
    pub values: BTreeMap<String, String>,
}

/// A verdict.
pub type Permission = Result<(), Refused>;

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

/// May this record be added to the job as it stands now? Asked once more while nobody else can write, because between
/// an action's own question and its record another action may have come in.
pub fn of_event(job: &Job, event: &Event) -> Permission {
    match event {
        Event::ReadingKept(_) | Event::ReadingCorrected(_) => keep_reading(job),
        Event::FindingKept(_) => keep_finding(job),
        Event::ApprovalKept(_) => approve(job),
        Event::PartReceived(_) => receive_part(job),
        Event::ProgrammingReported(_) => report_programming(job),
        Event::FixProven(_) => prove_fix(job),
        Event::InvoiceKept(_) => keep_invoice(job),
        Event::HandedOver(_) => hand_over(job),
        _ => Ok(()),
    }
}

/// A reading needs points for its leads and a meter whose errors are known.
pub fn keep_reading(job: &Job) -> Permission {
    require(job.circuit.is_some(), "choose_circuit_first")?;
    require(job.meter.is_some(), "choose_meter_first")
}

/// A finding rests on readings.
pub fn keep_finding(job: &Job) -> Permission {
    require(job.circuit.is_some(), "choose_circuit_first")?;
    require(job.valid_readings().next().is_some(), "no_reading_yet")
}

/// The module may be called only when nothing is missing.
pub fn call_module(reasoning: Option<&Reasoning>) -> Permission {
    let open = reasoning.is_some_and(|r| r.diagnosis.modules.iter().any(|m| m.may_be_called));
    require(open, "module_not_proven")
}

/// The latest version of the estimate, once.
pub fn approve(job: &Job) -> Permission {
    require(job.latest_estimate().is_some(), "no_estimate")?;
    require(!job.latest_estimate_is_approved(), "already_approved")
}

/// Parts are bought after the customer said yes.
pub fn receive_part(job: &Job) -> Permission {
    require(job.approval_in_force().is_some(), "nothing_approved")?;
    require(!job.findings.is_empty(), "no_finding")
}

/// An outcome needs a decision.
pub fn report_programming(job: &Job) -> Permission {
    require(job.programming.is_some(), "no_programming_decision")
}

/// A proof needs a reading from before and one from after the repair.
pub fn prove_fix(job: &Job) -> Permission {
    require(job.valid_readings().any(|r| r.after_repair), "no_reading_after_repair")?;
    require(job.valid_readings().any(|r| !r.after_repair), "no_reading_yet")
}

/// Nothing is billed that nobody approved.
pub fn keep_invoice(job: &Job) -> Permission {
    require(job.approval_in_force().is_some(), "nothing_approved")
}

/// The vehicle goes back with its invoice.
pub fn hand_over(job: &Job) -> Permission {
    require(job.invoice.is_some(), "no_invoice")
}

fn require(met: bool, reason: &'static str) -> Permission {
    if met { Ok(()) } else { Err(Refused { reason, values: BTreeMap::new() }) }
}
