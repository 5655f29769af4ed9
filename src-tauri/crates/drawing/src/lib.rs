//! Any circuit as a picture that fits a phone.
//!
//! | Room | What it does |
//! |---|---|
//! | `graph` | from the circuit file to hubs (rails, splices, boxes) and strands (series runs between two hubs) |
//! | `columns` | which strand takes which column, once per circuit |
//! | `plan` | both of them together, kept for every reading: [`Plan`] |
//! | `known` | likelihood, lit or dimmed, readings, leads: from the engine's answer and the readings |
//! | `layout` | heights, and folding until it fits |
//! | `place` | everything in its place; names, discs and leads look for theirs |
//! | `paper` | the same as an SVG for paper |
//! | `picture` | the result: [`Picture`], which a screen draws one to one |
//!
//! This crate knows no record, clock, store, photo or screen. The same input gives the same drawing.
#![deny(missing_docs)]
#![cfg_attr(test, allow(clippy::unwrap_used))]

mod columns;
mod graph;
mod known;
mod layout;
mod paper;
mod picture;
mod place;
mod plan;
mod sheet;
mod table;
mod text;
mod words;

pub use known::Facts;
pub use paper::paper_svg;
pub use picture::*;
pub use plan::{Plan, UPRIGHT, WIDE};
pub use words::Language;

/// Width of a text in px at a size in px, as drawings are laid out with it.
#[must_use]
pub fn text_width(text: &str, size: f64) -> f64 {
    text::width(text, size)
}
