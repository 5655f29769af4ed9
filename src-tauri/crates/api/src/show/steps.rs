//! The steps of a job, the next of them, and what is waited for.

use super::verdict;
use crate::view::{NextView, StepView, WaitView};
use ::job::{Job, JobNext, Reasoning, StepLine, StepState, Wait, Waiting};

/// Every step as it stands.
pub(crate) fn steps(job: &Job, reasoning: Option<&Reasoning>, packets: usize) -> Vec<StepView> {
    ::job::steps(job, reasoning, packets).into_iter().map(step).collect()
}

/// What to do next.
pub(crate) fn next(job: &Job, reasoning: Option<&Reasoning>) -> NextView {
    match ::job::next(job, reasoning) {
        JobNext::Step(step) => NextView { step: step.code().to_owned(), test: String::new() },
        JobNext::Reading(test) => NextView { step: "reading".to_owned(), test },
    }
}

/// What the job waits for.
pub(crate) fn waits(job: &Job) -> Vec<WaitView> {
    Waiting::of(job).into_iter().map(|wait| view(job, wait)).collect()
}

fn step(line: StepLine) -> StepView {
    let (state, waits_for) = match line.state {
        StepState::Done => ("done", ""),
        StepState::Waits(what) => ("waits", what.code()),
        StepState::Refused => ("refused", ""),
        StepState::Open => ("open", ""),
    };
    StepView {
        step: line.step.code().to_owned(),
        state: state.to_owned(),
        waits_for: waits_for.to_owned(),
        count: u32::try_from(line.count).unwrap_or(u32::MAX),
        verdict: verdict(line.verdict),
    }
}

/// The customer is asked, or who may approve in their place.
fn view(job: &Job, wait: Wait) -> WaitView {
    let intake = &job.intake;
    let text = |field: &Option<String>| field.clone().unwrap_or_default();
    let (whom, phone) = match wait.what {
        // The number is that of whoever is named.
        Waiting::Customer if intake.approver_name.as_ref().is_some_and(|name| !name.is_empty()) => {
            (text(&intake.approver_name), text(&intake.approver_phone))
        }
        Waiting::Customer => (text(&intake.customer), text(&intake.phone)),
        Waiting::Part | Waiting::Appointment => (wait.whom, String::new()),
    };
    WaitView { what: wait.what.code().to_owned(), since: wait.since, due: wait.due, whom, phone }
}
