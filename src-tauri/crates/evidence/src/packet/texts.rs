//! The words that lie in a packet. They never vary by job, so that the verifier can tell ours from others'.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The language of the README.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Language {
    /// English.
    #[default]
    En,
    /// Spanish.
    Es,
}

/// `data/README.txt`.
pub fn readme(language: Language) -> &'static str {
    match language {
        Language::En => README_EN,
        Language::Es => README_ES,
    }
}

/// `data/certification.txt`, in English because it is a draft for courts of the United States.
pub const CERTIFICATION: &str = include_str!("certification.txt");

/// Whether these bytes are a README this version writes.
pub fn is_known_readme(bytes: &[u8]) -> bool {
    [README_EN, README_ES].iter().any(|text| text.as_bytes() == bytes)
}

const README_EN: &str = include_str!("readme-en.txt");
const README_ES: &str = include_str!("readme-es.txt");
