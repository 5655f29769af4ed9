use super::RecordKind;
use super::check::{self, Unusable};
use super::descriptor::{AGREED, Descriptor, Field};
use evidence::Digest;
use money::Cents;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// How an approval came.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum Channel {
    /// In person, with a signature.
    InPerson,
    /// By phone.
    Phone,
    /// By text message.
    TextMessage,
    /// By email.
    #[serde(rename = "e_mail")]
    Email,
}

/// What becomes of the old parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum OldParts {
    /// They go back to the customer.
    Return,
    /// The shop keeps them.
    KeepByShop,
    /// They go to the supplier in exchange.
    Exchange,
}

/// The customer's approval of one version of the estimate.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ApprovalKept {
    /// Version of the estimate.
    pub version: u32,
    /// Record of that version.
    pub estimate: Digest,
    /// Up to which total.
    pub amount: Cents,
    /// How the approval came.
    pub channel: Channel,
    /// What becomes of the old parts.
    pub old_parts: OldParts,
    /// Who approved. Withheld.
    #[serde(default)]
    pub name: String,
    /// The approval in their words. Withheld.
    #[serde(default)]
    pub words: String,
    /// Signature as an SVG path in a box of 600 by 200. Withheld.
    #[serde(default)]
    pub signature: String,
}

impl RecordKind for ApprovalKept {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "approval_kept",
        &[
            Field::public("version"),
            Field::public("estimate"),
            Field::public("amount"),
            Field::public("channel"),
            Field::public("old_parts"),
            Field::withheld("name", AGREED),
            Field::withheld("words", AGREED),
            Field::withheld("signature", AGREED),
        ],
    )
    .signed();

    fn admissible(&self) -> Result<(), Unusable> {
        check::amount("amount", self.amount)
    }
}
