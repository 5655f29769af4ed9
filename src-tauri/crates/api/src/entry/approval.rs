pub use job::event::{Channel, OldParts};
pub use money::LineAnswer;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// The customer's answer to the latest version of the estimate.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct ApprovalEntry {
    /// Version that is answered; refused when it is not the latest.
    pub version: u32,
    /// What was said to each line, in the order of the estimate; empty when all of it is approved.
    #[serde(default)]
    #[ts(type = "('approved' | 'declined' | 'deferred')[]")]
    pub answers: Vec<LineAnswer>,
    /// Up to which total, as typed; empty for all that the approved lines come to.
    #[serde(default)]
    pub limit: String,
    /// Who answers.
    pub name: String,
    /// True when it was asked whether somebody else than the customer or the one named at check-in may approve.
    #[serde(default)]
    pub signer_confirmed: bool,
    /// When the answer came, as typed: a local day and time ("2026-11-28T14:30"); empty for now.
    #[serde(default)]
    pub given_at: String,
    /// How the answer came.
    pub channel: Channel,
    /// The answer in their words; for a text message or e-mail these or a photo of it are needed.
    pub words: String,
    /// What it depends on, in their words.
    #[serde(default)]
    pub conditions: String,
    /// Phone number that was called; needed by phone.
    #[serde(default)]
    pub number_called: String,
    /// Who of the shop called; empty for the technician.
    #[serde(default)]
    pub called_by: String,
    /// What becomes of the old parts.
    pub old_parts: OldParts,
    /// Signature as an SVG path in a box of 600 by 200; required in person.
    pub signature: String,
    /// Photos kept before, by hash.
    #[serde(default)]
    pub photos: Vec<String>,
}

/// The customer does without the written estimate.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct EstimateWaiverEntry {
    /// How it was put in writing.
    pub channel: Channel,
    /// Who waives.
    pub name: String,
    /// The waiver in the words that are signed or were sent.
    pub words: String,
    /// Signature as an SVG path in a box of 600 by 200; required in person.
    pub signature: String,
    /// Photos kept before, by hash.
    #[serde(default)]
    pub photos: Vec<String>,
}

/// An approval that the customer takes back.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct ApprovalWithdrawalEntry {
    /// Record of the approval in force.
    pub approval: String,
    /// How the withdrawal came.
    pub channel: Channel,
    /// Who withdraws.
    pub name: String,
    /// In their words.
    pub words: String,
    /// Photos kept before, by hash.
    pub photos: Vec<String>,
}

/// A message that asks for an approval, as it goes out.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct ApprovalRequestEntry {
    /// Version that is asked about; refused when it is not the latest.
    pub version: u32,
    /// How it is asked.
    pub channel: Channel,
    /// Language of the message: `en`, `es`, or empty where nobody said.
    #[serde(default)]
    pub language: String,
    /// The message.
    pub text: String,
    /// Number or address.
    pub to: String,
}
