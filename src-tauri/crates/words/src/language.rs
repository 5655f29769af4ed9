use unic_langid::{LanguageIdentifier, langid};

/// Language of a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Language {
    /// English as it is written in the United States.
    English,
    /// Spanish as it is written in the United States.
    Spanish,
}

impl Language {
    /// Every language there is.
    pub const ALL: [Language; 2] = [Language::English, Language::Spanish];

    /// BCP 47 code without the region, `en` or `es`.
    pub fn code(self) -> &'static str {
        match self {
            Language::English => "en",
            Language::Spanish => "es",
        }
    }

    /// The language of a code; English for every unknown one.
    pub fn of(code: &str) -> Language {
        if code.starts_with("es") { Language::Spanish } else { Language::English }
    }

    /// BCP 47 identifier with the region, whose rules of plural hold.
    pub(crate) fn identifier(self) -> LanguageIdentifier {
        match self {
            Language::English => langid!("en-US"),
            Language::Spanish => langid!("es-US"),
        }
    }
}
