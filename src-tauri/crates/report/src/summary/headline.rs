//! What was found and where it stands, in at most two sentences.

use crate::everyday;
use crate::page::expected::Expected;
use crate::page::proof;
use crate::page::result::{decimal, list};
use crate::page::wording::Wording;
use job::Job;
use job::event::{FindingKept, Outcome};
use serde::Serialize;

/// Where the job stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Status {
    /// Measured again after the repair, and nothing says that it isn't good.
    Fixed,
    /// The cause is found; nothing was measured after a repair.
    NotFixed,
    /// Measured again after the repair, and not good.
    NotGood,
    /// No cause is proven.
    NotProven,
}

impl Status {
    pub fn of(job: &Job, wording: &Wording) -> Status {
        let called = job.findings.last().is_some_and(|kept| kept.event.outcome != Outcome::NotProven);
        let pair = job.proofs.last().and_then(|kept| proof::pair(job, &kept.event));
        match pair {
            Some((_, after)) => match Expected::of(after, job, wording).is_met(after, job) {
                Some(false) => Status::NotGood,
                _ => Status::Fixed,
            },
            None if called => Status::NotFixed,
            None => Status::NotProven,
        }
    }
}

/// The status in words and what was found.
#[derive(Serialize)]
pub(crate) struct Headline {
    pub(crate) status: Status,
    pub(crate) words: String,
    pub(crate) text: String,
}

impl Headline {
    pub fn of(job: &Job, wording: &Wording) -> Headline {
        let status = Status::of(job, wording);
        let code = job::code(&status);
        Headline {
            status,
            words: wording.say(&format!("summary_status_{code}"), &[]),
            text: sentences(job, wording).join(" "),
        }
    }
}

/// Who is innocent first, then what it was.
fn sentences(job: &Job, wording: &Wording) -> Vec<String> {
    let Some(finding) = job.findings.last().map(|kept| &kept.event) else {
        return vec![wording.say("summary_no_finding", &[])];
    };
    let cause = everyday::cause(&finding.cause, wording);
    match finding.outcome {
        Outcome::NotProven => {
            vec![wording.say("summary_not_proven", &[]), wording.say("summary_guess", &[])]
        }
        Outcome::ModuleCalled => vec![cause, wording.say("summary_fed", &[])],
        Outcome::CauseCalled => cleared_computer(finding, wording).into_iter().chain([cause]).collect(),
    }
}

/// "The computer that runs the fan works": only where the finding leaves its module less than one chance in a hundred.
fn cleared_computer(finding: &FindingKept, wording: &Wording) -> Option<String> {
    if wording.circuit()?.modules.is_empty() {
        return None;
    }
    let modules = list(&finding.result, "modules");
    let chances: Vec<f64> = modules.iter().filter_map(|one| decimal(one.get("probability"))).collect();
    let cleared = !chances.is_empty() && chances.iter().sum::<f64>() < crate::CLEARED;
    let computer = everyday::computer(wording);
    cleared.then(|| everyday::sentence(&wording.say("summary_works", &[("computer", &computer)])))
}
