use schemars::JsonSchema;
use serde::Deserialize;
use ts_rs::TS;

/// How the bench is looked at; nothing of it is kept.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize, JsonSchema, TS)]
#[ts(export)]
pub struct BenchEntry {
    /// Language of the drawing's names: `en` or `es`.
    pub language: String,
    /// Position of the switch that is shown; empty = the next test's.
    pub position: String,
    /// The phone is held sideways, or the screen is wide.
    pub wide: bool,
}
