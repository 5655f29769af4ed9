use super::RecordKind;
use super::check::{self, Unusable};
use super::descriptor::{AGREED, CUSTOMER, Descriptor, Field, JUDGES};
use chrono::DateTime;
use evidence::Digest;
use money::{Cents, LineAnswer};
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

/// Who it was that answered, held against what was said at check-in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum Signer {
    /// The customer.
    Customer,
    /// Whom the customer named as somebody who may approve.
    Approver,
    /// Neither; the technician was asked and kept it all the same.
    Other,
}

/// The customer's answer to one version of the estimate, line by line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ApprovalKept {
    /// Version of the estimate.
    pub version: u32,
    /// Record of that version.
    pub estimate: Digest,
    /// Up to which total: that of the approved lines with their tax, or less where the customer set a limit.
    pub amount: Cents,
    /// When the customer said so: wall time to the minute with its offset (RFC 3339), by the device's clock or as it was
    /// typed, never before the estimate. Empty in records from before it was kept: then it is their own time.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub given_at: String,
    /// What was said to each line, in the order of the estimate; empty where all of it was approved.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub answers: Vec<LineAnswer>,
    /// Who it was; nothing in records from before it was asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub signer: Option<Signer>,
    /// Photos of the message, the signed paper.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<Digest>,
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
    /// What the approval depends on, in their words. Withheld.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub conditions: String,
    /// Phone number that was called. Withheld.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub number_called: String,
    /// Who of the shop called. Withheld.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub called_by: String,
    /// Signature as an SVG path in a box of 600 by 200. Withheld.
    #[serde(default)]
    pub signature: String,
}

impl ApprovalKept {
    /// What was said to the line at a place, from 0.
    #[must_use]
    pub fn answer(&self, place: usize) -> LineAnswer {
        match self.answers.as_slice() {
            [] => LineAnswer::Approved,
            answers => answers.get(place).copied().unwrap_or(LineAnswer::Declined),
        }
    }

    /// Was any line approved?
    #[must_use]
    pub fn approves(&self) -> bool {
        self.answers.is_empty() || self.answers.contains(&LineAnswer::Approved)
    }

    /// Was every line approved?
    #[must_use]
    pub fn approves_all(&self) -> bool {
        self.answers.iter().all(|answer| *answer == LineAnswer::Approved)
    }
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
            Field::public("given_at"),
            Field::public("answers"),
            Field::public("signer"),
            Field::public("photos"),
            Field::withheld("name", AGREED),
            Field::withheld("words", AGREED),
            Field::withheld("conditions", AGREED),
            Field::forgettable("number_called", CUSTOMER),
            Field::withheld("called_by", JUDGES),
            Field::withheld("signature", AGREED),
        ],
    )
    .signed();

    fn photos(&self) -> Vec<Digest> {
        self.photos.clone()
    }

    fn admissible(&self) -> Result<(), Unusable> {
        check::amount("amount", self.amount)?;
        let known = self.given_at.is_empty() || DateTime::parse_from_rfc3339(&self.given_at).is_ok();
        if known { Ok(()) } else { Err(Unusable::new("given_at", "it is no time: write day and time")) }
    }
}
