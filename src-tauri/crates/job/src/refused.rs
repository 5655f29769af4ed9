//! A verdict: allowed, or why not.

use std::collections::BTreeMap;

/// Why something may not be done: a code for the words, with the values the sentence needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// Code.
    pub reason: &'static str,
    /// Values by name.
    pub values: BTreeMap<String, String>,
}

impl Refused {
    /// A reason that needs no values.
    #[must_use]
    pub fn because(reason: &'static str) -> Refused {
        Refused { reason, values: BTreeMap::new() }
    }

    /// Something that isn't known here.
    #[must_use]
    pub fn unknown(what: &str, value: &str) -> Refused {
        Refused::because("unknown_choice").with("what", what).with("value", value)
    }

    /// The same with a value for its sentence.
    #[must_use]
    pub fn with(mut self, name: &str, value: &str) -> Refused {
        self.values.insert(name.to_owned(), value.to_owned());
        self
    }
}

/// A verdict.
pub type Permission = Result<(), Refused>;
