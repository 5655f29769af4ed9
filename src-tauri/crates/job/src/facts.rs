//! What a job tells of the shop's figures, kept with its line of the list so that a thousand jobs needn't be read again.

use crate::Job;
use serde::{Deserialize, Serialize};

/// What the figures of the shop need of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct JobFacts {
    /// Wall time of the opening.
    pub opened: String,
    /// Wall time of each attempt at programming that counts.
    pub programmed: Vec<String>,
}

impl JobFacts {
    /// The facts of a job as it stands.
    #[must_use]
    pub fn of(job: &Job) -> JobFacts {
        JobFacts {
            opened: job.opened_wall.clone(),
            programmed: job.valid_attempts().map(|attempt| attempt.kept.wall.clone()).collect(),
        }
    }
}
