//! The words that lie in a packet. They never vary by job, so that the verifier can tell ours from others'.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::Digest;

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

/// The same draft in Spanish, for reading; it lies beside the English one in Spanish packets.
pub const CERTIFICATION_ES: &str = include_str!("certification-es.txt");

/// Whether these bytes are a README or draft that a version of this program wrote.
pub fn is_known(bytes: &[u8]) -> bool {
    let ours = [README_EN, README_ES, CERTIFICATION, CERTIFICATION_ES];
    ours.iter().any(|text| text.as_bytes() == bytes)
        || EARLIER.contains(&Digest::of(bytes).to_string().as_str())
}

/// Hashes of the texts that earlier forms of the packet held: add those of a text before changing it.
const EARLIER: [&str; 3] = [
    "aba693cd97bea6eac90fb11c2d91e10800a1360c07ad4de2e91ee66b74483209",
    "70dffdcb73842bad3df0178208593596040424800b1b93f6acdafa486dda5009",
    "1692b470b5c69e6ec89669db9ba09a17603b928174bb8b686f9814b04da347e2",
];

const README_EN: &str = include_str!("readme-en.txt");
const README_ES: &str = include_str!("readme-es.txt");
