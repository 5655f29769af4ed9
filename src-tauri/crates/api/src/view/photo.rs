use job::event::{MarkShape, MarkTone, PhotoPurpose};
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
    /// False when no preview can be made (HEIC, rare or unreadable pictures): the original is kept all the same.
    pub has_preview: bool,
    /// It is a frame of the app's own viewfinder, taken when it was kept.
    pub live: bool,
    /// Codes of doubts: `no_capture_time`, `capture_time_in_future`, `capture_time_far_from_clock`, `picture_cut_off`.
    pub doubts: Vec<String>,
    /// Marks on it, lowest first. They are drawn over it on the screen and into copies, never into the original.
    pub marks: Vec<MarkView>,
}

/// A mark on a photo; places in thousandths of the upright picture's width and height.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct MarkView {
    /// What is drawn.
    pub shape: MarkShape,
    /// In which color.
    pub tone: MarkTone,
    /// Beginning of an arrow; upper left corner of an ellipse's rectangle, or of a text's plate.
    pub x: u32,
    /// The same, from above.
    pub y: u32,
    /// What an arrow points at; lower right corner of an ellipse's rectangle.
    pub to_x: u32,
    /// The same, from above.
    pub to_y: u32,
    /// Text of the mark; empty where it has none or it isn't here any more.
    pub text: String,
}

/// What became of the original of a photo at this device.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum OriginalState {
    /// Its bytes are here, and they are those that were sealed.
    Here,
    /// No file is here.
    Missing,
    /// A file is here, but its bytes aren't those that were sealed.
    Damaged,
    /// It was destroyed when the customer's data was deleted.
    Forgotten,
}

/// A photo whose file is here without a record: the app was ended between the two.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct FoundPhotoView {
    /// SHA-256 of its bytes.
    pub sha256: String,
    /// Size in bytes, as a decimal string.
    pub bytes: String,
    /// Media type ("image/jpeg").
    pub media_type: String,
    /// Time the camera wrote into the picture, RFC 3339 or local without offset; empty when none.
    pub taken: String,
    /// Pixel size, 0 when it can't be known.
    pub width: u32,
    /// Pixel size, 0 when it can't be known.
    pub height: u32,
    /// False when no preview can be made (HEIC, rare or unreadable pictures).
    pub has_preview: bool,
}
