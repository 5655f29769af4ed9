//! What parts and their programming demand.

use super::{receive_part, require};
use crate::Job;
use crate::event::{PartReceived, ProgrammingDecided, ProgrammingRoute};
use crate::refused::{Permission, Refused};

pub(super) fn received(job: &Job, part: &PartReceived) -> Permission {
    receive_part(job)?;
    require(!part.photos.is_empty(), "no_receipt_photo")
}

/// Work done by others has somebody who does it.
pub(super) fn decided(decided: &ProgrammingDecided) -> Permission {
    let named = decided.route == ProgrammingRoute::OwnTool || !decided.provider.is_empty();
    if named { Ok(()) } else { Err(Refused::because("field_empty").with("field", "provider")) }
}
