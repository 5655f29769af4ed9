//! The findings report, read back with programs that aren't ours: qpdf, poppler's tools, exiftool.

mod checks;
mod jobs;
mod programs;
mod readability;
