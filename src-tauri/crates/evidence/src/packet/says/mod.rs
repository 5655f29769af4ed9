//! Every statement of a verdict: what it says, with its values, and its words in both languages side by side.
//!
//! A statement is a value and its words are made from it here alone, so that text, JSON, screens and both languages say the
//! same, and none claims more than the others. Records are counted from 1, as people do.

mod compared;
mod doubt;
mod headline;
mod open;
mod proven;
mod wrong;

pub use doubt::Doubt;
pub use headline::{Headline, Signer};
pub use open::Open;
pub use proven::Proven;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
pub use wrong::{Head, Wrong};

/// A statement: which one, and its values. The names never change their meaning.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum Statement {
    /// Something is proven.
    Proven(Proven),
    /// Something isn't.
    Open(Open),
    /// Something is wrong.
    Wrong(Wrong),
    /// Something is strange.
    Doubt(Doubt),
}

impl Statement {
    /// Its words.
    pub fn said(&self) -> Said {
        match self {
            Self::Proven(statement) => statement.said(),
            Self::Open(statement) => statement.said(),
            Self::Wrong(statement) => statement.said(),
            Self::Doubt(statement) => statement.said(),
        }
    }
}

/// The same words in both languages.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Said {
    /// In English.
    pub en: String,
    /// In Spanish.
    pub es: String,
}

impl Said {
    fn new(en: impl Into<String>, es: impl Into<String>) -> Self {
        Self { en: en.into(), es: es.into() }
    }
}

/// `1 record`, `2 records`.
fn en(count: u64, one: &str) -> String {
    let ending = if count == 1 { "" } else { "s" };
    format!("{count} {one}{ending}")
}

/// `1 registro`, `2 registros`; `many` where it isn't one letter more.
fn es(count: u64, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// `Record 3`, `Records 3–9`: in English and in Spanish.
fn stretch(first: u64, last: u64) -> (String, String) {
    if first == last {
        (format!("Record {first}"), format!("El registro {first}"))
    } else {
        (format!("Records {first}\u{2013}{last}"), format!("Los registros {first}\u{2013}{last}"))
    }
}

/// Minor units as an amount.
fn money(cents: &i64) -> String {
    let (sign, size) = (if *cents < 0 { "-" } else { "" }, cents.unsigned_abs());
    format!("{sign}{}.{:02}", size / 100, size % 100)
}

/// Between the words for one record and for several.
fn pick<'a>(first: u64, last: u64, one: &'a str, several: &'a str) -> &'a str {
    if first == last { one } else { several }
}
