//! What the shop's own closed jobs say of a route.

use crate::Job;
use crate::event::{ProgrammingOutcome, ProgrammingRoute};
use money::{Cents, Hours, Line, LineKind};
use serde::{Deserialize, Serialize};

/// An attempt at programming, as far as it teaches something about its route.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct AttemptSeen {
    /// The route it was made on.
    pub route: ProgrammingRoute,
    /// Whether it succeeded.
    pub succeeded: bool,
    /// What was billed for it; nothing where nobody said.
    pub billed: Cents,
    /// The first attempt of its job on this route: what is paid for a further one may be another price.
    pub first: bool,
    /// Hours of programming that the customer was billed for, by attempt; nothing where none were, or where the job's attempts
    /// were made on more than one route.
    pub hours: Option<Hours>,
}

impl AttemptSeen {
    /// The attempts of a job that was handed over; a job that goes on may still correct them.
    #[must_use]
    pub fn of(job: &Job) -> Vec<AttemptSeen> {
        if job.handed_over.is_none() {
            return Vec::new();
        }
        let mut seen: Vec<AttemptSeen> = Vec::new();
        for attempt in job.valid_attempts() {
            let Some(decision) = job.decision_of(attempt) else { continue };
            let (route, event) = (decision.event.route, &attempt.kept.event);
            let succeeded = event.outcome == ProgrammingOutcome::Succeeded;
            let first = seen.iter().all(|earlier| earlier.route != route);
            seen.push(AttemptSeen { route, succeeded, billed: event.billed, first, hours: None });
        }
        let one_route = seen.iter().all(|one| Some(one.route) == seen.first().map(|first| first.route));
        let hours = programming_hours(job, seen.len()).filter(|_| one_route);
        seen.iter_mut().for_each(|one| one.hours = hours);
        seen
    }
}

/// Hours of the lines for programming that were billed and not credited, shared out evenly.
fn programming_hours(job: &Job, attempts: usize) -> Option<Hours> {
    let (billed, credited) = job.billed_lines();
    let sum = |lines: Vec<&Line>| {
        let own = lines.into_iter().filter(|line| line.kind == LineKind::Programming);
        own.fold(0_u32, |sum, line| sum.saturating_add(line.quantity.thousandths()))
    };
    let hours = sum(billed).saturating_sub(sum(credited));
    let each = hours.checked_div(u32::try_from(attempts).ok()?)?;
    (each > 0).then(|| Hours::from_thousandths(each))
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
    /// The median of the bills for first attempts, with how many jobs had one.
    pub billed: Option<(Cents, u32)>,
    /// The median of the hours of an attempt that customers were billed for, with how many jobs had some.
    pub hours: Option<(Hours, u32)>,
}

impl RouteHistory {
    /// From the attempts of each job.
    pub fn of<'a>(route: ProgrammingRoute, jobs: impl Iterator<Item = &'a Vec<AttemptSeen>>) -> RouteHistory {
        let mut history = RouteHistory::default();
        let (mut bills, mut hours) = (Vec::new(), Vec::new());
        for job in jobs {
            let first = job.iter().find(|attempt| attempt.route == route && attempt.first);
            bills.extend(first.map(|attempt| attempt.billed.0).filter(|billed| *billed > 0));
            hours.extend(first.and_then(|attempt| attempt.hours).map(|hours| i64::from(hours.thousandths())));
            let own = || job.iter().filter(|attempt| attempt.route == route);
            let count = |succeeded: bool| {
                u32::try_from(own().filter(|attempt| attempt.succeeded == succeeded).count())
                    .unwrap_or(u32::MAX)
            };
            history.successes = history.successes.saturating_add(count(true));
            history.failures = history.failures.saturating_add(count(false));
            history.jobs = history.jobs.saturating_add(u32::from(own().next().is_some()));
        }
        history.billed = median(bills).map(|(cents, jobs)| (Cents(cents), jobs));
        let whole =
            |(hours, jobs): (i64, u32)| Some((Hours::from_thousandths(u32::try_from(hours).ok()?), jobs));
        history.hours = median(hours).and_then(whole);
        history
    }
}

/// The value in the middle, of an even number the mean of the two there (cut to a whole one), with how many there are.
fn median(mut values: Vec<i64>) -> Option<(i64, u32)> {
    values.sort_unstable();
    let count = values.len();
    let upper = *values.get(count / 2)?;
    let lower = if count.is_multiple_of(2) { *values.get(count / 2 - 1)? } else { upper };
    let middle = lower.checked_add(upper.checked_sub(lower)? / 2)?;
    Some((middle, u32::try_from(count).ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Python's `statistics.median` (library reference, "statistics"), whose mean of two is cut here.
    #[test]
    fn the_median_is_the_one_in_the_middle() {
        for (values, middle) in [
            (vec![], None),
            (vec![7], Some((7, 1))),
            (vec![9, 1], Some((5, 2))),
            (vec![9, 1, 4], Some((4, 3))),
            (vec![14_500, 19_500, 14_500, 99_900], Some((17_000, 4))),
            (vec![1, 2], Some((1, 2))),
        ] {
            assert_eq!(median(values.clone()), middle, "{values:?}");
        }
    }
}
