//! A second, plain copy of every log beside the database: one file of JSON lines per log.
//!
//! The database answers questions; the journal survives it. A record is committed first and then written and synced
//! here before it is acknowledged, so a journal never runs ahead of a sound database. See decision 9.

mod line;
mod read;
mod reconcile;
mod write;

pub(crate) use line::{checkpoint_line, record_line};
pub(crate) use read::{Contents, read};
pub(crate) use reconcile::journals;
pub(crate) use write::{Entry, Journal, text_of};
