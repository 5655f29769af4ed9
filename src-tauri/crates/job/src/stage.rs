//! Where a job stands, computed from its records.

use crate::Job;

/// Stage of a job, in the order of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// The vehicle was taken in.
    Intake,
    /// Readings are being taken.
    Measuring,
    /// A finding is on record.
    Finding,
    /// An estimate waits for approval.
    Estimate,
    /// The customer answered the latest estimate, and something is approved.
    Approved,
    /// Parts or programming are on record.
    Repair,
    /// The fix is proven.
    Proof,
    /// The invoice is written.
    Invoiced,
    /// The vehicle was handed over.
    HandedOver,
}

impl Stage {
    /// Every stage, in the order of the work.
    pub const ALL: [Stage; 9] = [
        Stage::Intake,
        Stage::Measuring,
        Stage::Finding,
        Stage::Estimate,
        Stage::Approved,
        Stage::Repair,
        Stage::Proof,
        Stage::Invoiced,
        Stage::HandedOver,
    ];

    /// Code for the words.
    pub fn code(self) -> &'static str {
        match self {
            Stage::Intake => "intake",
            Stage::Measuring => "measuring",
            Stage::Finding => "finding",
            Stage::Estimate => "estimate",
            Stage::Approved => "approved",
            Stage::Repair => "repair",
            Stage::Proof => "proof",
            Stage::Invoiced => "invoiced",
            Stage::HandedOver => "handed_over",
        }
    }

    /// The furthest stage that the records show.
    pub fn of(job: &Job) -> Stage {
        // A version that was declined leaves what was approved before it in force.
        let agreed = job.approval_in_force().is_some() && job.latest_estimate_is_answered();
        let reached = [
            (job.handed_over.is_some(), Stage::HandedOver),
            (!job.invoices.is_empty(), Stage::Invoiced),
            (!job.proofs.is_empty(), Stage::Proof),
            (!job.parts.is_empty() || !job.programming.is_empty(), Stage::Repair),
            (!job.findings.is_empty() && agreed, Stage::Approved),
            (!job.findings.is_empty() && !job.estimates.is_empty(), Stage::Estimate),
            (!job.findings.is_empty(), Stage::Finding),
            (job.circuit.is_some() || !job.readings.is_empty(), Stage::Measuring),
        ];
        reached.into_iter().find(|(done, _)| *done).map_or(Stage::Intake, |(_, stage)| stage)
    }
}
