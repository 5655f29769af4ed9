//! Phrases and conditions, as the circuit made from an entry needs them.

use crate::file::component::Conditions;
use crate::file::text::Text;

/// The technician's own words stand in both languages.
pub(super) fn same(words: &str) -> Text {
    Text { en: words.trim().to_owned(), es: words.trim().to_owned() }
}

pub(super) fn text(en: impl Into<String>, es: impl Into<String>) -> Text {
    Text { en: en.into(), es: es.into() }
}

pub(super) fn when(variable: &str, values: &[&str]) -> Conditions {
    Conditions::from([(variable.to_owned(), values.iter().map(|value| (*value).to_owned()).collect())])
}
