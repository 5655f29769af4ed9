//! What a job tells of the shop's figures, kept with its line of the list so that a thousand jobs needn't be read again.

use crate::Job;
use crate::event::{Outcome, PaymentKept, PaymentWay};
use crate::own_lines::LineUsed;
use crate::routes::{is_module, module_line, names_module};
use money::{Cents, Hours, Line, Subtotal};
use serde::{Deserialize, Serialize};

/// What the figures of the shop need of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct JobFacts {
    /// Running number.
    pub number: u32,
    /// Wall time of the opening.
    pub opened: String,
    /// Wall time of the hand-over; empty while the job goes on.
    pub closed: String,
    /// Wall time of each attempt at programming that counts.
    pub programmed: Vec<String>,
    /// The approval in force.
    pub agreed: Option<DatedAmount>,
    /// Invoices, and credit notes below zero.
    pub billed: Vec<DatedAmount>,
    /// What was paid, and given back below zero; by its day.
    pub paid: Vec<DatedAmount>,
    /// Hours of the labor lines that were billed, less those that were credited.
    pub hours: Hours,
    /// Number of the job that this one comes back from; 0 for none.
    pub comes_back_from: u32,
    /// Whether it is a claim on the shop's warranty.
    pub warranty: bool,
    /// Modules that were bought.
    pub modules_bought: Vec<DatedAmount>,
    /// A module that was suspected, or asked for, and not bought because another cause was found.
    pub module_spared: Option<ModuleSpared>,
    /// Lines of its papers.
    pub lines: Vec<LineUsed>,
}

/// An amount with the wall time of its record.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct DatedAmount {
    /// Wall time.
    pub wall: String,
    /// Amount.
    pub amount: Cents,
}

/// A module that was not bought.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ModuleSpared {
    /// Wall time of the finding that called something else.
    pub wall: String,
    /// Its price on an estimate that nobody approved, or that a later one took the place of; nothing where none has it.
    pub price: Option<Cents>,
    /// Whether records say that the module was suspected or asked for. Without it only a price that was typed for the job
    /// says so.
    pub on_record: bool,
}

impl JobFacts {
    /// The facts of a job as it stands.
    #[must_use]
    pub fn of(job: &Job) -> JobFacts {
        let dated = |wall: &str, amount| DatedAmount { wall: wall.to_owned(), amount };
        let bought = job.parts.iter().filter(|part| is_module(job, part));
        let back = job.intake.comes_back_from.as_ref().and_then(|number| number.parse().ok());
        JobFacts {
            number: job.opened.number,
            opened: job.opened_wall.clone(),
            closed: job.handed_over.as_ref().map(|kept| kept.wall.clone()).unwrap_or_default(),
            programmed: job.valid_attempts().map(|attempt| attempt.kept.wall.clone()).collect(),
            agreed: job.approval_in_force().map(|kept| dated(&kept.wall, kept.event.amount)),
            billed: billed(job),
            paid: job.payments.iter().map(|kept| paid(&kept.event)).collect(),
            hours: hours(job),
            comes_back_from: back.unwrap_or(0),
            warranty: job.intake.warranty.unwrap_or(false),
            modules_bought: bought.map(|part| dated(&part.wall, part.event.price)).collect(),
            module_spared: spared(job),
            lines: LineUsed::of(job),
        }
    }
}

fn billed(job: &Job) -> Vec<DatedAmount> {
    let dated = |wall: &str, amount: i64| DatedAmount { wall: wall.to_owned(), amount: Cents(amount) };
    let invoices = job.standing_invoices().map(|kept| dated(&kept.wall, kept.event.totals.total.0));
    let credits =
        job.credit_notes.iter().map(|kept| dated(&kept.wall, kept.event.totals.total.0.saturating_neg()));
    invoices.chain(credits).collect()
}

fn paid(payment: &PaymentKept) -> DatedAmount {
    let amount = match payment.way {
        PaymentWay::Received => payment.amount,
        PaymentWay::Refunded => Cents(payment.amount.0.saturating_neg()),
    };
    DatedAmount { wall: payment.day.clone(), amount }
}

/// Hours of the labor lines that were billed and not credited.
fn hours(job: &Job) -> Hours {
    let (billed, credited) = job.billed_lines();
    let sum = |lines: Vec<&Line>| {
        let labor = lines.into_iter().filter(|line| line.kind.subtotal() == Subtotal::Labor);
        labor.fold(0_u32, |sum, line| sum.saturating_add(line.quantity.thousandths()))
    };
    Hours::from_thousandths(sum(billed).saturating_sub(sum(credited)))
}

/// Another cause was called, no module came, and the one of the circuit may have been suspected.
fn spared(job: &Job) -> Option<ModuleSpared> {
    let finding = job.findings.last().filter(|kept| kept.event.outcome == Outcome::CauseCalled)?;
    let has_module = job.circuit_file().is_some_and(|circuit| !circuit.modules.is_empty());
    if !has_module || job.parts.iter().any(|part| is_module(job, part)) {
        return None;
    }
    let in_force = job.approval_in_force().map(|kept| kept.event.estimate);
    let declined = job.estimates.iter().filter(|estimate| Some(estimate.record) != in_force);
    let line = declined.filter_map(|estimate| module_line(job, &estimate.event.estimate.lines)).next_back();
    let asked = job.intake.complaint.as_ref().is_some_and(|complaint| names_module(job, complaint));
    Some(ModuleSpared {
        wall: finding.wall.clone(),
        price: line.and_then(|line| line.amount().ok()).filter(|amount| amount.0 > 0),
        on_record: line.is_some() || asked,
    })
}
