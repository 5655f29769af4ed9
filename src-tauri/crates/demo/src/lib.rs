//! Jobs as files: what was done and when, played into a workshop as a technician would have done it, with the times of the
//! file; and the sample job that the app carries along.
//!
//! Knows no screens and no words: a refusal is handed on as it came.
#![deny(missing_docs, clippy::missing_errors_doc)]

mod error;
mod names;
mod play;
mod sample;
mod script;

pub use error::PlayError;
pub use play::{Happened, Stage};
pub use sample::sample;
pub use script::{Action, Expectation, PhotoStep, Script, ShopFile, Step};
