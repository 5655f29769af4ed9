use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What a label is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum LabelKind {
    /// A vehicle's identification number.
    Vin,
    /// A part's number.
    Part,
}

/// A picture of a label; its bytes come beside.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct LabelEntry {
    /// What it is asked for.
    pub what: LabelKind,
    /// Number of a frame among those of a camera: it is looked at shortly, each in another way. Null for a photo.
    #[serde(default)]
    pub frame: Option<u32>,
}
