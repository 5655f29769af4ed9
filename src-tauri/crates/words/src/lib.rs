//! One catalogue of words: what the screens, the report and the command line say, and the cautions, each text once.
//!
//! The words stand in Project Fluent files (<https://projectfluent.org/fluent/guide/>), one folder a language, one file
//! a subject. The screens read the same files. `evidence` keeps the packet's own words, because a packet has to say the
//! same for ever; circuit files carry the names of their parts in both languages themselves.
//!
//! Knows nothing but words: no job, no circuit, no money.
#![deny(missing_docs)]

mod catalogue;
mod format;
#[cfg(test)]
mod keys;
mod language;
mod sources;

pub use catalogue::Catalogue;
pub use format::{clock, percent};
pub use language::Language;
