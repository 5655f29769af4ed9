//! What a proof of the fix demands: the same test at the same points in the same state, before and after the repair.

use super::{prove_fix, require};
use crate::event::FixProven;
use crate::refused::{Permission, Refused};
use crate::{Job, Reading, observed};
use circuit::UNKNOWN;
use evidence::Digest;

pub(super) fn kept(job: &Job, proof: &FixProven) -> Permission {
    prove_fix(job)?;
    let (before, after) = (reading(job, &proof.before)?, reading(job, &proof.after)?);
    let counts = before.corrected_by.is_none() && after.corrected_by.is_none();
    require(counts, "already_corrected")?;
    require(same_test(job, before, after), "not_the_same_test")?;
    let in_order = before.number < after.number && !before.after_repair && after.after_repair;
    require(in_order, "proof_in_wrong_order")
}

fn reading<'j>(job: &'j Job, record: &Digest) -> Result<&'j Reading, Refused> {
    job.reading(record).ok_or_else(|| Refused::unknown("reading", &record.to_string()))
}

/// The same test at the same points in the same state.
pub(crate) fn same_test(job: &Job, before: &Reading, after: &Reading) -> bool {
    let (b, a) = (&before.reading, &after.reading);
    let same_points = b.red == a.red && b.black == a.black;
    let same_pins = b.red_pin == a.red_pin && b.black_pin == a.black_pin;
    // Two readings in states nobody knows aren't the same test.
    let known = !b.state.values().any(|position| position == UNKNOWN);
    let same_state = known && b.state == a.state && b.load == a.load;
    let about = job.circuit_file().map(|circuit| observed::about(circuit, &b.test)).unwrap_or_default();
    // What held while left alone proves nothing of a fault that showed when it was wiggled, and a lowest is no value.
    let as_before = b.condition == a.condition && observed::which(b, about) == observed::which(a, about);
    b.test == a.test && b.mode == a.mode && as_before && same_points && same_pins && same_state
}
