//! The state of a reading made whole: nothing that decides what it means stays unsaid.

use crate::file::layout::Circuit;
use crate::file::observation::{State, UNKNOWN};

impl Circuit {
    /// Every variable with its position. What was left out is as the named test wants it (that is what the technician was
    /// asked to bring about); without a test it is `unknown`, never silently the usual position.
    #[must_use]
    pub fn whole_state(&self, test: Option<&str>, given: &State) -> State {
        let test = self.tests.iter().find(|known| test == Some(known.id.as_str()));
        let mut state = given.clone();
        for variable in &self.variables {
            let asked = test.map(|test| test.state.get(&variable.id).unwrap_or(&variable.default));
            let position = || asked.map_or(UNKNOWN, String::as_str).to_owned();
            state.entry(variable.id.clone()).or_insert_with(position);
        }
        state
    }
}
