use super::descriptor::{AGREED, CUSTOMER, Descriptor, Field};
use super::{Channel, RecordKind};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The customer was asked for a yes to one version of the estimate, before any of it is done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ApprovalRequested {
    /// Version of the estimate.
    pub version: u32,
    /// Record of that version.
    pub estimate: Digest,
    /// How it was asked.
    pub channel: Channel,
    /// The message, word by word. Withheld.
    #[serde(default)]
    pub text: String,
    /// Number or address it went to. Withheld.
    #[serde(default)]
    pub to: String,
}

impl RecordKind for ApprovalRequested {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "approval_requested",
        &[
            Field::public("version"),
            Field::public("estimate"),
            Field::public("channel"),
            Field::withheld("text", AGREED),
            Field::forgettable("to", CUSTOMER),
        ],
    );
}
