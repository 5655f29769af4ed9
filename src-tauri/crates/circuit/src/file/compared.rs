//! Which value of a minimum/maximum recording a test is about.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::file::observation::Observation;

/// Which value of a recording is held against what the circuit shows.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Compared {
    /// The value itself.
    #[default]
    Value,
    /// The lowest that was recorded, where one was: battery volts while the engine cranks.
    Lowest,
    /// The highest that was recorded, where one was.
    Highest,
}

impl Compared {
    /// What every test is about that says nothing else.
    pub(crate) fn is_value(&self) -> bool {
        *self == Self::Value
    }

    pub(crate) fn of(self, seen: &Observation) -> Option<f64> {
        match self {
            Self::Value => None,
            Self::Lowest => seen.lowest,
            Self::Highest => seen.highest,
        }
    }
}
