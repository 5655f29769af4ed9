//! Causes and pairs of causes with their probabilities, and the words for these.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::ground::Ground;
use crate::file::fault::FaultMode;

/// Probability of one cause.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CauseShare {
    /// `component/mode`.
    pub id: String,
    /// Part.
    pub component: String,
    /// Way of failing.
    pub mode: FaultMode,
    /// Probability, 0 to 1 (steady and coming-and-going together).
    pub probability: f64,
    /// Part of that probability that belongs to a fault that comes and goes.
    pub comes_and_goes: f64,
    /// Probability before any reading.
    pub prior: f64,
    /// The word for it.
    pub word: LikelihoodWord,
    /// Severity that is most probable and its central 90 % (ohm, volt or factor, by mode).
    pub severity: Option<SeverityEstimate>,
    /// Module it belongs to.
    pub module: Option<String>,
    /// Set when it is ruled out.
    pub ruled_out: Option<RuledOut>,
    /// The readings that did most for or against it, strongest first.
    #[serde(default)]
    pub grounds: Vec<Ground>,
}

/// Severity with its central 90 %.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SeverityEstimate {
    /// 5 % point.
    pub low: f64,
    /// Median.
    pub median: f64,
    /// 95 % point.
    pub high: f64,
}

/// Two faults together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PairShare {
    /// The two cause ids.
    pub causes: Vec<String>,
    /// Probability.
    pub probability: f64,
}

/// The reading that ruled a cause out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RuledOut {
    /// Observation with the largest drop.
    pub by: String,
    /// How many times the odds fell over all observations.
    pub factor: f64,
}

/// Words for likelihood (one scale; the number is always shown with it).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LikelihoodWord {
    /// Over 99 %.
    AlmostCertain,
    /// 90 to 99 %.
    VeryLikely,
    /// 66 to 90 %.
    Likely,
    /// 33 to 66 %.
    AboutAsLikelyAsNot,
    /// 10 to 33 %.
    Unlikely,
    /// 1 to 10 %.
    VeryUnlikely,
    /// Under 1 %.
    PracticallyRuledOut,
}

impl LikelihoodWord {
    /// The word for a probability.
    #[must_use]
    pub fn of(probability: f64) -> Self {
        match probability {
            p if p > 0.99 => Self::AlmostCertain,
            p if p >= 0.90 => Self::VeryLikely,
            p if p >= 0.66 => Self::Likely,
            p if p >= 0.33 => Self::AboutAsLikelyAsNot,
            p if p >= 0.10 => Self::Unlikely,
            p if p >= 0.01 => Self::VeryUnlikely,
            _ => Self::PracticallyRuledOut,
        }
    }
}
