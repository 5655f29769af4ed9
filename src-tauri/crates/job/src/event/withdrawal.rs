use super::descriptor::{AGREED, Descriptor, Field};
use super::{Channel, RecordKind};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The customer took an approval back. What was approved before it stays approved.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ApprovalWithdrawn {
    /// Record of the approval.
    pub approval: Digest,
    /// How the withdrawal came.
    pub channel: Channel,
    /// Who withdrew it. Withheld.
    #[serde(default)]
    pub name: String,
    /// In their words. Withheld.
    #[serde(default)]
    pub words: String,
    /// Photos of the message.
    #[serde(default)]
    pub photos: Vec<Digest>,
}

impl RecordKind for ApprovalWithdrawn {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "approval_withdrawn",
        &[
            Field::public("approval"),
            Field::public("channel"),
            Field::withheld("name", AGREED),
            Field::withheld("words", AGREED),
            Field::public("photos"),
        ],
    )
    .signed();

    fn photos(&self) -> Vec<Digest> {
        self.photos.clone()
    }
}
