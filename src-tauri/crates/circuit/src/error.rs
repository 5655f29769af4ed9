//! What can go wrong, and what to try.

use thiserror::Error;

/// Everything this crate refuses.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum CircuitError {
    /// The data file is not a circuit.
    #[error("the circuit file cannot be read: {0}. Correct the file at the named line")]
    Unreadable(String),
    /// The data file contradicts itself.
    #[error("circuit {circuit}: {place}: {problem}")]
    Invalid {
        /// Which circuit.
        circuit: String,
        /// Which part of the file, such as `tests/output_loaded`.
        place: String,
        /// What is wrong and what to write instead.
        problem: String,
    },
    /// A number of a composition that no such part has.
    #[error("{place}: {value} {unit} can't be. Write {least} to {most} {unit}")]
    OutOfRange {
        /// Which field, such as `coil_ohms`.
        place: String,
        /// The number given.
        value: String,
        /// The least that can be.
        least: String,
        /// The most that can be.
        most: String,
        /// Its unit.
        unit: &'static str,
    },
    /// Words of a composition that can't stand in a circuit.
    #[error("{place}: {problem}")]
    Field {
        /// Which field, such as `load/name`.
        place: String,
        /// What is wrong and what to write instead.
        problem: String,
    },
    /// A name that the circuit doesn't have.
    #[error("{kind} {id} is not in this circuit. Choose one that is listed")]
    Unknown {
        /// Sort of name: point, test, component, load, state variable.
        kind: &'static str,
        /// The name given.
        id: String,
    },
    /// An observation that cannot be weighed as it stands.
    #[error("observation {id}: {problem}")]
    Observation {
        /// Which observation.
        id: String,
        /// What is wrong and what to add.
        problem: String,
    },
    /// A meter's value that no meter has.
    #[error("meter {meter:?}: {field}: {problem}")]
    Meter {
        /// Its name.
        meter: String,
        /// Which value.
        field: &'static str,
        /// What is wrong and what to write instead.
        problem: String,
    },
    /// Something the engine was told that can't be.
    #[error("options: {field}: {problem}")]
    Option {
        /// Which of the options.
        field: &'static str,
        /// What is wrong and what to write instead.
        problem: String,
    },
    /// What was computed is no number: nothing may be concluded from it.
    #[error(
        "the readings give no probability of {0}: nothing may be concluded from them. Check the values of the circuit file \
         with `circuit check`"
    )]
    NotFinite(String),
    /// The equations have no single answer, such as two ideal sources in conflict.
    #[error("this circuit has no single solution in this state ({0}). Check sources and shorts in the file")]
    NoSolution(String),
}
