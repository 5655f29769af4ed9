use schemars::JsonSchema;
use serde::Deserialize;
use ts_rs::TS;

/// Which circuits are looked for.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize, JsonSchema, TS)]
#[ts(export)]
pub struct CircuitsEntry {
    /// The job whose complaint comes first; empty = none.
    pub job: String,
    /// Words to search for; empty = all circuits.
    pub query: String,
}

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
