pub use job::event::{MarkShape, MarkTone};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// The marks on a photo as they are to stand.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct MarksEntry {
    /// The original.
    pub photo: String,
    /// All of them, lowest first; none to take off those on record.
    pub marks: Vec<MarkEntry>,
}

/// A mark; places in thousandths of the upright picture's width and height.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct MarkEntry {
    /// What is drawn.
    pub shape: MarkShape,
    /// In which color.
    pub tone: MarkTone,
    /// Beginning of an arrow; upper left corner of an ellipse's rectangle, or of a text's plate.
    pub x: u32,
    /// The same, from above.
    pub y: u32,
    /// What an arrow points at; lower right corner of an ellipse's rectangle; nothing for a text.
    pub to_x: u32,
    /// The same, from above.
    pub to_y: u32,
    /// Text, for a mark that has one.
    #[serde(default)]
    pub text: String,
}
