//! Invents displays that show numbers, and photographs them.
//!
//! Everything is computed from strokes, typefaces, light and noise; nothing is taken from any photograph or any
//! instrument that exists. The same seed gives the same picture. Held-back styles (stroke shapes, typefaces and hues)
//! are never given to the training.
#![deny(missing_docs)]

mod body;
pub mod chance;
mod dots;
pub mod lens;
mod letters;
pub mod panel;
mod place;
mod raster;
mod row;
pub mod sample;
pub mod scene;
mod segments;
mod tint;
pub mod value;
pub mod whole;
