//! Which value of a minimum/maximum recording a test is about.

use std::borrow::Cow;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::file::layout::Circuit;
use crate::file::observation::{Observation, ObservedValue};

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

    fn of(self, seen: &Observation) -> Option<f64> {
        match self {
            Self::Value => None,
            Self::Lowest => seen.lowest,
            Self::Highest => seen.highest,
        }
    }
}

/// The observations with the value that their tests are about in the place of the value.
pub(crate) fn compared<'o>(circuit: &Circuit, observations: &'o [Observation]) -> Cow<'o, [Observation]> {
    let taken = |seen: &Observation| {
        let test = circuit.tests.iter().find(|test| seen.test.as_ref() == Some(&test.id))?;
        test.compares.of(seen)
    };
    if observations.iter().all(|seen| taken(seen).is_none()) {
        return Cow::Borrowed(observations);
    }
    let one = |seen: &Observation| match taken(seen) {
        Some(number) => Observation { value: ObservedValue::Number(number), ..seen.clone() },
        None => seen.clone(),
    };
    observations.iter().map(one).collect()
}
