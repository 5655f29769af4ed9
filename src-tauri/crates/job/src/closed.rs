//! What a closed job taught: the cause that was called, and proven by the fix.

use crate::Job;
use crate::event::Outcome;
use serde::{Deserialize, Serialize};

/// A proven cause of a closed job.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct ProvenCause {
    /// Circuit id.
    pub circuit: String,
    /// Cause id.
    pub cause: String,
}

impl ProvenCause {
    /// The proven cause of a job that was handed over: called in its newest finding, with the fix proven by a pair of
    /// readings. Anything less proves nothing about causes, and doesn't count.
    pub fn of(job: &Job) -> Option<ProvenCause> {
        let finding = &job.findings.last()?.event;
        let proven = job.handed_over.is_some() && !job.proofs.is_empty();
        let called = finding.outcome != Outcome::NotProven && !finding.cause.is_empty();
        (proven && called)
            .then(|| ProvenCause { circuit: finding.circuit.clone(), cause: finding.cause.clone() })
    }
}
