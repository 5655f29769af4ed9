//! What a rule answers, and how well it is known.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What a region's rule says on one question.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// It does.
    Yes,
    /// It doesn't.
    No,
    /// If the customer asks.
    OnRequest,
    /// No source at hand.
    #[default]
    Unknown,
}

/// How much weight a source bears.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SourceStatus {
    /// The text of the rule was read.
    TextRead,
    /// An office or a journal describes the rule; its text was not read.
    DescribedByOthers,
    /// Known from memory: look it up before leaning on it.
    FromMemory,
    /// Common practice, no source.
    CommonPractice,
}

/// Where one rule comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RuleSource {
    /// Which fields rest on it.
    pub supports: Vec<String>,
    /// Citation.
    pub text: String,
    /// How it is known.
    pub status: SourceStatus,
}
