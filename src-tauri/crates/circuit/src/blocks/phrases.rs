//! Words in both languages, as blocks write them.

use crate::file::text::Text;

pub(super) fn say(en: impl Into<String>, es: impl Into<String>) -> Text {
    Text { en: en.into(), es: es.into() }
}
