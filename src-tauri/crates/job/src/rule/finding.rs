//! What a finding demands: readings, and of a cause that is called, that it is proven.

use super::{Standing, keep_finding};
use crate::event::{FindingKept, Outcome};
use crate::finding::called_cause;
use crate::refused::{Permission, Refused};

pub(super) fn kept(standing: &Standing<'_>, finding: &FindingKept) -> Permission {
    keep_finding(standing.job)?;
    let diagnosis = standing.diagnosis.ok_or_else(|| Refused::because("choose_circuit_first"))?;
    let called = called_cause(diagnosis, &finding.cause)?;
    let outcome = match called {
        None => Outcome::NotProven,
        Some(cause) if cause.module.is_some() => Outcome::ModuleCalled,
        Some(_) => Outcome::CauseCalled,
    };
    // What is sealed must be what the readings prove at this moment, not what they proved when the form was opened.
    if finding.outcome == outcome { Ok(()) } else { Err(Refused::because("job_moved")) }
}
