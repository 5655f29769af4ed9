//! The findings report, read back with programs that aren't ours: qpdf, poppler's tools, exiftool.
//!
//! Needs the Debian packages `qpdf`, `poppler-utils` and `libimage-exiftool-perl`; a missing program fails the test.
#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)] // Helpers outside `#[test]` may panic here too.

mod attached;
mod checks;
mod codes;
mod jobs;
mod kept_pages;
mod plain_words;
mod programs;
mod readability;
mod statement;
mod summary;
