//! A second, plain copy of every log beside the database: one file of JSON lines per log.
//!
//! The database answers questions; the journal survives it. A record is committed first and then written and synced
//! here before it is acknowledged, so a journal never runs ahead of a sound database. See decision 9.

mod copy;
mod line;
mod read;
mod reconcile;
mod text;
mod write;

pub(crate) use copy::JournalCopy;
pub(crate) use line::{checkpoint_line, heading_line, record_line};
pub(crate) use read::{Contents, read};
pub(crate) use reconcile::journals;
pub(crate) use text::{lines_of, text_of};
pub(crate) use write::{Entry, Journal, Planned, free_name, put_length};
