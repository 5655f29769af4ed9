//! What parts and their programming demand.

use super::{receive_part, report_programming, require};
use crate::Job;
use crate::event::{PartReceived, ProgrammingDecided, ProgrammingReported, ProgrammingRoute};
use crate::refused::{Permission, Refused};

pub(super) fn received(job: &Job, part: &PartReceived) -> Permission {
    receive_part(job)?;
    require(!part.photos.is_empty(), "no_receipt_photo")?;
    let known = |id: &str| job.circuit_file().is_some_and(|file| file.modules.iter().any(|m| m.id == id));
    let fits = part.module.is_empty() || known(&part.module);
    if fits { Ok(()) } else { Err(Refused::unknown("module", &part.module)) }
}

/// Work done by others has somebody who does it.
pub(super) fn decided(decided: &ProgrammingDecided) -> Permission {
    let named = decided.route == ProgrammingRoute::OwnTool || !decided.provider.is_empty();
    if named { Ok(()) } else { Err(Refused::because("field_empty").with("field", "provider")) }
}

/// An outcome needs a decision; a correction names an attempt of this job that was not corrected yet.
pub(super) fn reported(job: &Job, reported: &ProgrammingReported) -> Permission {
    report_programming(job)?;
    let Some(corrects) = reported.corrects else { return Ok(()) };
    let target = job.programmed.iter().find(|attempt| attempt.kept.record == corrects);
    let target = target.ok_or_else(|| Refused::unknown("programming_attempt", &corrects.to_string()))?;
    require(target.corrected_by.is_none(), "attempt_already_corrected")
}
