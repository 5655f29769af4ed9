//! What a version of the estimate demands.

use super::{not_handed_over, require};
use crate::Job;
use crate::event::EstimateKept;
use crate::refused::Permission;

/// The next version, with at least one line, while the vehicle is here.
pub(super) fn estimate(job: &Job, kept: &EstimateKept) -> Permission {
    not_handed_over(job)?;
    require(!kept.estimate.lines.is_empty(), "no_lines")?;
    require(kept.estimate.version == job.next_estimate_version(), "not_the_latest_version")
}
