use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Asks what a photo of a supplier's paper says.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct PaperEntry {
    /// Photo kept before, by hash. Null asks whether papers can be read here at all.
    #[serde(default)]
    pub photo: Option<String>,
}
