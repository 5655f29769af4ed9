//! Small pieces the added tests are made of.

use crate::file::component::Conditions;
use crate::file::layout::{Variable, VariableValue};
use crate::file::observation::State;
use crate::file::text::Text;

pub(super) fn text(en: impl Into<String>, es: impl Into<String>) -> Text {
    Text { en: en.into(), es: es.into() }
}

pub(super) fn when(variable: &str, values: &[&str]) -> Conditions {
    Conditions::from([(variable.to_owned(), values.iter().map(|value| (*value).to_owned()).collect())])
}

/// A variable whose first value is the usual one.
pub(super) fn variable(id: &str, name: Text, values: &[(&str, &str, &str)]) -> Variable {
    let value =
        |(id, en, es): &(&str, &str, &str)| VariableValue { id: (*id).to_owned(), name: text(*en, *es) };
    let default = values.first().map(|(id, ..)| (*id).to_owned()).unwrap_or_default();
    Variable { id: id.to_owned(), name, values: values.iter().map(value).collect(), default }
}

/// A state with one more value.
pub(super) fn with(state: &State, variable: &str, value: &str) -> State {
    let mut state = state.clone();
    state.insert(variable.to_owned(), value.to_owned());
    state
}
