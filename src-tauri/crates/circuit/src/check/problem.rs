//! What is wrong in a circuit file or an entered diagram, where, and what to do about it.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Problem {
    /// Sort of problem.
    pub code: ProblemCode,
    /// Place in the file or the entry, such as `tests/output_loaded` or `parts/3/length_m`.
    pub place: String,
    /// Line in the file, from 1, where there is one.
    #[serde(default)]
    pub line: Option<usize>,
    /// What is wrong.
    pub problem: String,
    /// What to do about it.
    pub remedy: String,
}

/// Sort of problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ProblemCode {
    /// Not JSON, or not the shape of a circuit.
    Unreadable,
    /// More than the stated limits.
    TooLarge,
    /// A name that is empty, too long or used twice.
    Name,
    /// A name that isn't listed where it should be.
    NotListed,
    /// A number out of its range.
    Number,
    /// A combination that can't be.
    Contradiction,
    /// A point that no part touches, or that no path joins to the reference.
    Floating,
    /// A load that nothing feeds.
    NoFeed,
    /// A load whose current can't return.
    NoReturn,
    /// A test that can never be made.
    OutOfReach,
    /// A substitute load or bridge that could destroy something.
    Unsafe,
    /// A healthy circuit would fail its own test.
    HealthyFails,
    /// A CAN pair that hasn't two modules and a terminator at each end.
    BusEnds,
    /// A character that nobody sees, or that turns what stands beside it.
    HiddenCharacter,
}

impl Problem {
    pub(crate) fn new(code: ProblemCode, place: &str, problem: impl Into<String>, remedy: &str) -> Self {
        let (problem, remedy) = (problem.into(), remedy.to_owned());
        Self { code, place: place.to_owned(), line: None, problem, remedy }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(line) = self.line {
            write!(formatter, "line {line}: ")?;
        }
        write!(formatter, "{}: {}. {}", self.place, self.problem, self.remedy)
    }
}
