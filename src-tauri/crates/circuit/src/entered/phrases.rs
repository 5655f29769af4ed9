//! Phrases and conditions, as the circuit made from an entry needs them.

use crate::file::component::Conditions;
use crate::file::text::Text;

/// The technician's own words stand in both languages, in one line.
pub(super) fn same(words: &str) -> Text {
    let words: String =
        words.trim().chars().map(|c| if matches!(c, '\n' | '\r' | '\t') { ' ' } else { c }).collect();
    Text { en: words.clone(), es: words }
}

pub(super) fn text(en: impl Into<String>, es: impl Into<String>) -> Text {
    Text { en: en.into(), es: es.into() }
}

pub(super) fn when(variable: &str, values: &[&str]) -> Conditions {
    Conditions::from([(variable.to_owned(), values.iter().map(|value| (*value).to_owned()).collect())])
}
