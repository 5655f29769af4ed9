use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A findings report was written; its bytes are kept under this hash.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReportWritten {
    /// SHA-256 of the PDF.
    pub sha256: Digest,
    /// Size in bytes, decimal.
    pub bytes: String,
    /// File name.
    pub name: String,
    /// Language: en or es.
    pub language: String,
    /// Who it was written for, a code of [`crate::recipient::Recipient`]; empty in older records: the customer.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub recipient: String,
    /// Records of this log that the printed checkpoint covers.
    pub checkpoint_size: u32,
}
