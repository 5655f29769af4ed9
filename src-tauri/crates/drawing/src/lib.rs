//! Any circuit as a picture that fits a phone.
#![deny(missing_docs)]
#![allow(dead_code)]
mod columns;
mod graph;
mod known;
mod layout;
mod picture;
mod place;
mod plan;
mod table;
mod text;
mod words;

pub use known::Facts;
pub use picture::*;
pub use plan::{Plan, UPRIGHT, WIDE};
pub use words::Language;

/// Width of a text in px at a size in px, as drawings are laid out with it.
#[must_use]
pub fn text_width(text: &str, size: f64) -> f64 {
    text::width(text, size)
}
