//! The only room that speaks to the network: it carries a question to a time-stamp authority and brings the answer.
//!
//! Bytes go out and bytes come back (RFC 3161 section 3.4: `application/timestamp-query` by POST). What they say is
//! not this room's business: the answer is believed only after `evidence` has checked it. No authority is contacted
//! unless the caller names its address; nothing but the question's bytes is sent.
#![deny(missing_docs)]

mod address;
mod ask;
mod error;

pub use address::Address;
pub use ask::{Limits, ask};
pub use error::AskError;
