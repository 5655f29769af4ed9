use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;
use ts_rs::TS;

/// A refused action: a code with values. The sentence and the remedy stand in the words of the screen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ErrorView {
    /// Code.
    pub code: String,
    /// Values the sentence needs, by name.
    pub values: BTreeMap<String, String>,
    /// What happened, in English, for the log and the command line.
    pub detail: String,
}
