//! What a photograph's bytes say, and small pictures made from them.
//!
//! Bytes in, values out. This crate opens no file, reads no clock and changes no original: [`inspect`] only
//! reads, [`preview`], [`for_report`], [`redact`] and [`marked`] make new JPEGs that carry no metadata at all, so that no position
//! leaves the shop inside a picture; [`carried`] says what a file carries besides the picture, and [`without_metadata`] takes
//! that out and leaves every pixel as it is. It knows no job, no record and no database.
//!
//! Limits, stated so that a phone survives hostile or huge pictures: at most [`MAX_PIXELS`] pixels and
//! [`MAX_DECODE_BYTES`] bytes of decoded picture; beyond them a picture is still kept, without a preview.
#![deny(missing_docs)]

mod capture_time;
mod carried;
pub mod display;
mod error;
mod exif_fields;
mod facts;
mod heif_boxes;
mod heif_extents;
mod jpeg;
mod jpeg_segments;
mod kind;
mod label;
mod location;
mod marks;
mod orientation;
mod paper;
mod pieces;
mod pixels;
mod png_rows;
mod preview;
mod redact;
mod shrink;
mod structure;

pub use capture_time::CaptureTime;
pub use carried::{Carries, carried, without_metadata};
pub use display::{DisplayReading, read_display};
pub use error::{PhotoError, WhyNoPreview};
pub use facts::{Doubt, Facts, PixelSize, Preview, inspect};
pub use kind::Kind;
pub use label::{Effort, Label, Symbology, read_label};
pub use marks::{MOST_LETTERS, MOST_MARKS, Mark, MarkShape, MarkTone, Spot, is_line, marked};
pub use orientation::Orientation;
pub use paper::{PaperModels, PaperPiece, PaperRow, read_paper};
pub use pixels::{MAX_DECODE_BYTES, MAX_PIXELS};
pub use preview::{PREVIEW_QUALITY, for_report, preview};
pub use redact::{Area, REDACTED_SIDE, WHOLE, redact};
