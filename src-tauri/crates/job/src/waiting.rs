//! What a job waits for, computed from its records: somebody else's turn, which no work at the vehicle shortens.

use crate::{Job, Kept};
use money::{LineAnswer, LineKind};

/// What a job may wait for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Waiting {
    /// The customer's answer to the latest estimate.
    Customer,
    /// A part that was approved and hasn't come.
    Part,
    /// The appointment at which a module is programmed.
    Appointment,
}

/// One thing that a job waits for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wait {
    /// What for.
    pub what: Waiting,
    /// Wall time of the record that it began with.
    pub since: String,
    /// When it is due: with its offset (RFC 3339), as an older record wrote it, or empty where nobody said.
    pub due: String,
    /// Whom for, where the record says it: the business that programs.
    pub whom: String,
}

impl Waiting {
    /// Everything a job can wait for, in the order of the work.
    pub const ALL: [Waiting; 3] = [Waiting::Customer, Waiting::Part, Waiting::Appointment];

    /// Code for the words.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Waiting::Customer => "customer",
            Waiting::Part => "part",
            Waiting::Appointment => "appointment",
        }
    }

    /// What a job waits for. A job that was invoiced or handed over waits for nothing.
    #[must_use]
    pub fn of(job: &Job) -> Vec<Wait> {
        if !job.invoices.is_empty() || job.handed_over.is_some() {
            return Vec::new();
        }
        [customer(job), part(job), appointment(job)].into_iter().flatten().collect()
    }
}

fn customer(job: &Job) -> Option<Wait> {
    let estimate = job.latest_estimate().filter(|_| !job.latest_estimate_is_answered())?;
    Some(wait(Waiting::Customer, estimate))
}

/// Each line for a part brings one receipt, however many pieces it is. Once the fix is proven, nothing is awaited any more.
fn part(job: &Job) -> Option<Wait> {
    let approval = job.approval_in_force().filter(|_| job.proofs.is_empty())?;
    let lines = job
        .agreed_lines()
        .into_iter()
        .filter(|agreed| agreed.line.kind == LineKind::Part && agreed.answer == LineAnswer::Approved);
    (lines.count() > job.parts.len()).then(|| wait(Waiting::Part, approval))
}

fn appointment(job: &Job) -> Option<Wait> {
    let decided = job.programming_decision().filter(|decided| !decided.event.due().is_empty())?;
    let reported = job.programmed.iter().any(|attempt| attempt.decided == Some(decided.record));
    (!reported).then(|| Wait {
        due: decided.event.due().to_owned(),
        whom: decided.event.provider.clone(),
        ..wait(Waiting::Appointment, decided)
    })
}

fn wait<T>(what: Waiting, kept: &Kept<T>) -> Wait {
    Wait { what, since: kept.wall.clone(), due: String::new(), whom: String::new() }
}
