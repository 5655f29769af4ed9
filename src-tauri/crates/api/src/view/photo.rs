use job::event::PhotoPurpose;
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// A kept photo. Its picture comes through the `photo` protocol: `photo://localhost/preview/<sha256>` and
/// `photo://localhost/original/<sha256>`.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PhotoView {
    /// SHA-256 of the first bytes the app received.
    pub sha256: String,
    /// Size in bytes, as a decimal string.
    pub bytes: String,
    /// Media type ("image/jpeg").
    pub media_type: String,
    /// What it shows: one of the purposes of `PhotoPurpose`.
    pub purpose: PhotoPurpose,
    /// Time the camera wrote into the picture, RFC 3339 or local without offset; empty when none.
    pub taken: String,
    /// Time it was kept (wall clock with offset).
    pub kept: String,
    /// Pixel size, 0 when it can't be known.
    pub width: u32,
    /// Pixel size, 0 when it can't be known.
    pub height: u32,
    /// False when no preview can be made (HEIC): the original is kept all the same.
    pub has_preview: bool,
    /// Codes of doubts: `no_capture_time`, `capture_time_in_future`, `capture_time_far_from_clock`.
    pub doubts: Vec<String>,
}
