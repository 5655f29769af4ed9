//! The files of the catalogue, compiled in.

use crate::Language;

macro_rules! files {
    ($($subject:literal),* $(,)?) => {
        const ENGLISH: &[(&str, &str)] = &[$(($subject, include_str!(concat!("../en/", $subject, ".ftl")))),*];
        const SPANISH: &[(&str, &str)] = &[$(($subject, include_str!(concat!("../es/", $subject, ".ftl")))),*];
    };
}

files!(
    "cautions",
    "circuits",
    "command_line",
    "custody",
    "errors",
    "fields",
    "handover",
    "limits",
    "measuring",
    "money",
    "notices",
    "pages",
    "photos",
    "reasoning",
    "report",
    "shared",
    "sharing",
    "shop",
    "timeline",
    "vehicle",
);

/// The files of a language: subject and text.
pub(crate) fn files(language: Language) -> &'static [(&'static str, &'static str)] {
    match language {
        Language::English => ENGLISH,
        Language::Spanish => SPANISH,
    }
}
