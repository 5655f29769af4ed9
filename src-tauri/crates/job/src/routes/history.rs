//! What the shop's own closed jobs say of a route.

use crate::Job;
use crate::event::{ProgrammingOutcome, ProgrammingRoute};
use serde::{Deserialize, Serialize};

/// An attempt at programming, as far as it teaches something about its route.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct AttemptSeen {
    /// The route it was made on.
    pub route: ProgrammingRoute,
    /// Whether it succeeded.
    pub succeeded: bool,
}

impl AttemptSeen {
    /// The attempts of a job that was handed over; a job that goes on may still correct them.
    #[must_use]
    pub fn of(job: &Job) -> Vec<AttemptSeen> {
        if job.handed_over.is_none() {
            return Vec::new();
        }
        let seen = job.valid_attempts().filter_map(|attempt| {
            let route = job.decision_of(attempt)?.event.route;
            let succeeded = attempt.kept.event.outcome == ProgrammingOutcome::Succeeded;
            Some(AttemptSeen { route, succeeded })
        });
        seen.collect()
    }
}

/// What closed jobs say of one route.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct RouteHistory {
    /// Attempts that succeeded.
    pub successes: u32,
    /// Attempts that failed.
    pub failures: u32,
    /// Jobs they were made in.
    pub jobs: u32,
}

impl RouteHistory {
    /// From the attempts of each job.
    pub fn of<'a>(route: ProgrammingRoute, jobs: impl Iterator<Item = &'a Vec<AttemptSeen>>) -> RouteHistory {
        let mut history = RouteHistory::default();
        for job in jobs {
            let own = || job.iter().filter(|attempt| attempt.route == route);
            let count = |succeeded: bool| {
                u32::try_from(own().filter(|attempt| attempt.succeeded == succeeded).count())
                    .unwrap_or(u32::MAX)
            };
            history.successes = history.successes.saturating_add(count(true));
            history.failures = history.failures.saturating_add(count(false));
            history.jobs = history.jobs.saturating_add(u32::from(own().next().is_some()));
        }
        history
    }
}
