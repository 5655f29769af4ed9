//! What the screen shows. Every value here is computed from records; nothing here is kept.
//!
//! Amounts of money travel as decimal strings of minor units ("12999" is 129.99), because a JavaScript number is not
//! an integer. Probabilities are numbers from 0 to 1. Record names are leaf hashes in lowercase hexadecimal.

mod backup;
mod bench;
mod blocks;
mod check;
mod circuit;
mod diagnosis;
mod export;
mod intake;
mod job;
mod job_photo;
mod label;
mod money;
mod notice;
mod number;
mod own_circuit;
mod paper;
mod photo;
mod programming;
mod reading;
mod sharing;
mod shop;
mod timestamp;
mod tool;
mod year;

pub use backup::*;
pub use bench::*;
pub use blocks::*;
pub use check::*;
pub use circuit::*;
pub use diagnosis::*;
pub use drawing::Picture;
pub use export::*;
pub use intake::*;
pub use job::*;
pub use job_photo::*;
pub use label::*;
pub use money::*;
pub use notice::*;
pub use number::*;
pub use own_circuit::*;
pub use paper::*;
pub use photo::*;
pub use programming::*;
pub use reading::*;
pub use sharing::*;
pub use shop::*;
pub use timestamp::*;
pub use tool::*;
pub use year::*;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// One text in the two languages of the app.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct BothLanguages {
    /// English.
    pub en: String,
    /// Spanish.
    pub es: String,
}

/// Whether an action is allowed now; the screen never decides this itself.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct Verdict {
    /// True when the action may be taken.
    pub allowed: bool,
    /// Why not: a code with a sentence and a remedy in the words of the screen. Empty when allowed.
    pub reason: String,
    /// Values the sentence needs, by name ("over" → "1250").
    pub values: std::collections::BTreeMap<String, String>,
}
