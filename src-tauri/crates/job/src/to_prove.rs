//! What shows that the fault is gone: the reading that told most of it, taken again after the repair.

use crate::rule::same_test;
use crate::{Job, Reading};
use circuit::{Diagnosis, Reason, UNKNOWN};

/// The failing reading, and the same test after the repair where it was taken already.
#[derive(Clone, Copy, Debug)]
pub struct ToProve<'j> {
    /// Taken before the repair.
    pub before: &'j Reading,
    /// Taken after it, the newest.
    pub after: Option<&'j Reading>,
}

impl<'j> ToProve<'j> {
    /// Nothing before the repair is approved, nothing once it is proven, and nothing where no reading speaks for the cause that was
    /// found (without a finding: for the likeliest). A reading in a state that nobody knows can't be taken again.
    #[must_use]
    pub fn of(job: &'j Job, diagnosis: &Diagnosis) -> Option<ToProve<'j>> {
        if !job.repair_approved || !job.proofs.is_empty() {
            return None;
        }
        let before = telling(job, diagnosis)?;
        let taken = job.valid_readings().filter(|one| one.after_repair && same_test(job, before, one));
        Some(ToProve { before, after: taken.last() })
    }
}

/// The reading before the repair that speaks most for the cause that was found, without a finding for the likeliest.
#[must_use]
pub fn telling<'j>(job: &'j Job, diagnosis: &Diagnosis) -> Option<&'j Reading> {
    let found = job.findings.last().map(|finding| finding.event.cause.as_str());
    let cause = diagnosis.causes.iter().find(|cause| Some(cause.id.as_str()) == found);
    let reasons = &cause.or_else(|| diagnosis.causes.first())?.reasons;
    let speaking = reasons.iter().filter(|reason| reason.log_odds > 0.0);
    let failing = speaking.filter_map(|reason| Some((failing(job, reason)?, reason.log_odds)));
    failing.max_by(|left, right| left.1.total_cmp(&right.1)).map(|(reading, _)| reading)
}

fn failing<'j>(job: &'j Job, reason: &Reason) -> Option<&'j Reading> {
    let mut taken = job.valid_readings().filter(|one| !one.after_repair);
    let found = taken.find(|one| one.record.to_string() == reason.observation)?;
    let known = !found.reading.state.values().any(|position| position == UNKNOWN);
    known.then_some(found)
}
