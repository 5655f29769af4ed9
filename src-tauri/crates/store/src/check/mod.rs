//! What lies on disk is believed only as far as it hashes and somebody known signed for it.
//!
//! Every read of a job surveys its logs ([`survey`]); what doesn't hold is settled against the journal ([`mend`]), never
//! the other way round from bytes that don't hash. [`all`] does the same for everything, in pieces.

mod all;
mod aside;
mod mend;
mod replace;
mod signatures;
mod survey;
mod take_back;

pub use all::{CheckReport, CheckState};
pub(crate) use survey::{Survey, encoded_values, forgotten_of};
