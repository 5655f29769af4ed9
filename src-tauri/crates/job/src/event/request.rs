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
    /// Language of the message: en or es; older records don't say.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub language: String,
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
            Field::public("language"),
            Field::withheld("text", AGREED),
            Field::forgettable("to", CUSTOMER),
        ],
    );
}
