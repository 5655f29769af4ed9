use evidence::Digest;
use money::Cents;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

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
    /// Channel: in_person, phone, text_message, e_mail.
    pub channel: String,
    /// Old parts: return, keep_by_shop, exchange.
    pub old_parts: String,
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
