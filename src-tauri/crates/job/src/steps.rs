//! The steps of a job: what of each is on record, what it waits for or lacks, and which one comes next.

use crate::waiting::{Wait, Waiting};
use crate::{Job, NextStep, Permission, Reasoning, Stage, rule};

/// A step of a job, in the order in which a job usually runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// Vehicle, customer, complaint.
    Intake,
    /// Meter and circuit.
    Circuit,
    /// Pins as they were found.
    Pins,
    /// Readings.
    Readings,
    /// What the readings prove.
    Reasoning,
    /// What was found, written down.
    Finding,
    /// What it will cost.
    Estimate,
    /// The customer's yes.
    Approval,
    /// Parts that came.
    Part,
    /// Programming of a module.
    Programming,
    /// Before and after.
    Proof,
    /// Suppliers' quotes, bills and payments.
    Suppliers,
    /// The invoice.
    Invoice,
    /// What the customer paid.
    Payments,
    /// The vehicle goes back.
    HandOver,
    /// Report and packet.
    Papers,
}

/// How a step stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StepState {
    /// Something of it is on record.
    Done,
    /// It is somebody else's turn.
    Waits(Waiting),
    /// Nothing is on record, and nothing can be yet.
    Refused,
    /// It can be taken.
    Open,
}

/// A step as it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepLine {
    /// Which one.
    pub step: Step,
    /// How it stands.
    pub state: StepState,
    /// How much of it is on record.
    pub count: usize,
    /// May it be taken now, and why not.
    pub verdict: Permission,
}

/// What to do next with a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum JobNext {
    /// A step.
    Step(Step),
    /// A new reading; the test's id, empty where it is the technician's to choose.
    Reading(String),
}

impl Step {
    /// Every step in order.
    pub const ALL: [Step; 16] = [
        Step::Intake,
        Step::Circuit,
        Step::Pins,
        Step::Readings,
        Step::Reasoning,
        Step::Finding,
        Step::Estimate,
        Step::Approval,
        Step::Part,
        Step::Programming,
        Step::Proof,
        Step::Suppliers,
        Step::Invoice,
        Step::Payments,
        Step::HandOver,
        Step::Papers,
    ];

    /// Code for the words.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Step::Intake => "intake",
            Step::Circuit => "circuit",
            Step::Pins => "pins",
            Step::Readings => "readings",
            Step::Reasoning => "reasoning",
            Step::Finding => "finding",
            Step::Estimate => "estimate",
            Step::Approval => "approval",
            Step::Part => "part",
            Step::Programming => "programming",
            Step::Proof => "proof",
            Step::Suppliers => "suppliers",
            Step::Invoice => "invoice",
            Step::Payments => "payments",
            Step::HandOver => "hand_over",
            Step::Papers => "papers",
        }
    }

    /// The action whose verdict says whether it can be taken.
    fn action(self) -> Option<&'static str> {
        match self {
            Step::Readings => Some("keep_reading"),
            Step::Finding => Some("keep_finding"),
            Step::Estimate => Some("keep_estimate"),
            Step::Approval => Some("approve"),
            Step::Part => Some("receive_part"),
            Step::Programming => Some("decide_programming"),
            Step::Proof => Some("prove_fix"),
            Step::Invoice => Some("keep_invoice"),
            Step::Payments => Some("keep_payment"),
            Step::HandOver => Some("hand_over"),
            Step::Papers => Some("write_report"),
            Step::Intake | Step::Circuit | Step::Pins | Step::Reasoning | Step::Suppliers => None,
        }
    }

    /// What is waited for at this step.
    fn waits_for(self) -> Option<Waiting> {
        match self {
            Step::Approval => Some(Waiting::Customer),
            Step::Part => Some(Waiting::Part),
            Step::Programming => Some(Waiting::Appointment),
            _ => None,
        }
    }

    fn count(self, job: &Job) -> usize {
        let intake = &job.intake;
        let filled = [&intake.vin, &intake.odometer, &intake.complaint, &intake.customer];
        match self {
            Step::Intake => filled.iter().filter(|text| text.as_ref().is_some_and(|t| !t.is_empty())).count(),
            Step::Circuit => both(job.meter.is_some(), job.circuit.is_some()),
            Step::Pins => job.pins.len(),
            Step::Readings => job.readings.len(),
            // Causes are computed, not on record: what the reasoning has on record are the readings it weighs.
            Step::Reasoning if job.circuit.is_some() => job.valid_readings().count(),
            Step::Reasoning => 0,
            Step::Finding => job.findings.len(),
            Step::Estimate => job.estimates.len(),
            Step::Approval => job.approvals.len(),
            Step::Part => job.parts.len(),
            Step::Programming => job.programming.len().saturating_add(job.valid_attempts().count()),
            Step::Proof => job.proofs.len(),
            Step::Suppliers => job.supplier_steps.len(),
            Step::Invoice => job.invoices.len(),
            Step::Payments => job.payments.len(),
            Step::HandOver => usize::from(job.handed_over.is_some()),
            Step::Papers => job.reports.len(),
        }
    }
}

fn both(first: bool, second: bool) -> usize {
    usize::from(first).saturating_add(usize::from(second))
}

/// Every step of a job as it stands; `packets` were written for it.
#[must_use]
pub fn steps(job: &Job, reasoning: Option<&Reasoning>, packets: usize) -> Vec<StepLine> {
    let permissions = rule::permissions(job, reasoning);
    let waits = Waiting::of(job);
    let line = |step: Step| {
        let verdict = step.action().and_then(|action| permissions.get(action)).cloned().unwrap_or(Ok(()));
        let of_packets = if step == Step::Papers { packets } else { 0 };
        let count = step.count(job).saturating_add(of_packets);
        StepLine { step, state: state(step, count, &verdict, &waits), count, verdict }
    };
    Step::ALL.into_iter().map(line).collect()
}

fn state(step: Step, count: usize, verdict: &Permission, waits: &[Wait]) -> StepState {
    let awaited = step.waits_for().filter(|what| waits.iter().any(|wait| wait.what == *what));
    match awaited {
        Some(what) => StepState::Waits(what),
        None if count > 0 => StepState::Done,
        None if verdict.is_err() => StepState::Refused,
        None => StepState::Open,
    }
}

/// What to do next: by how far the job has come, and by whose turn it is.
#[must_use]
pub fn next(job: &Job, reasoning: Option<&Reasoning>) -> JobNext {
    let stage = Stage::of(job);
    let awaited = |what| Waiting::of(job).iter().any(|wait| wait.what == what);
    // More than was approved was asked for: without a yes nothing of it goes on.
    if (Stage::Estimate..=Stage::Repair).contains(&stage) && awaited(Waiting::Customer) {
        return JobNext::Step(Step::Approval);
    }
    match stage {
        Stage::Intake => JobNext::Step(if is_described(job) { Step::Circuit } else { Step::Intake }),
        Stage::Measuring => measuring(job, reasoning),
        Stage::Finding => JobNext::Step(Step::Estimate),
        Stage::Estimate => JobNext::Step(Step::Approval),
        Stage::Approved | Stage::Repair if awaited(Waiting::Part) => JobNext::Step(Step::Part),
        Stage::Approved | Stage::Repair if awaited(Waiting::Appointment) => JobNext::Step(Step::Programming),
        Stage::Approved | Stage::Repair => {
            let measured = job.valid_readings().any(|reading| reading.after_repair);
            if measured { JobNext::Step(Step::Proof) } else { JobNext::Reading(String::new()) }
        }
        Stage::Proof => JobNext::Step(Step::Invoice),
        Stage::Invoiced => JobNext::Step(Step::HandOver),
        Stage::HandedOver => JobNext::Step(Step::Papers),
    }
}

/// The circuit comes as soon as the complaint is written down.
fn is_described(job: &Job) -> bool {
    job.intake.complaint.as_ref().is_some_and(|complaint| !complaint.trim().is_empty())
}

/// The test that tells most; once none does, what was found is to be written down.
fn measuring(job: &Job, reasoning: Option<&Reasoning>) -> JobNext {
    let Some(circuit) = job.circuit_file() else { return JobNext::Step(Step::Circuit) };
    if job.meter.is_none() {
        return JobNext::Step(Step::Circuit);
    }
    let Some(reasoning) = reasoning else { return JobNext::Reading(String::new()) };
    match NextStep::now(job, circuit, &reasoning.diagnosis).0 {
        NextStep::Finding => JobNext::Step(Step::Finding),
        step => JobNext::Reading(step.test().unwrap_or_default().to_owned()),
    }
}
