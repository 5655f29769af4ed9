use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// What a label says.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct LabelView {
    /// The VIN or the part's number.
    pub text: String,
    /// Sort of bar code: `code_39`, `code_128`, `data_matrix`, `qr`.
    pub symbology: String,
    /// Where it was found, in pixels of the upright picture.
    pub corners: Vec<(f32, f32)>,
}
