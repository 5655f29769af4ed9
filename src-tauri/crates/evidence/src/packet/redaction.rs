//! Pictures that stand in for an original from which something was covered. The original's hash stays proven; the
//! derivative's hash is stated by a record.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{Digest, PhotoRef};

/// The kind of record that names derivatives; its public body is [`Redactions`].
pub const KIND: &str = "photo_redacted";

/// The public body of a record of kind [`KIND`].
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Redactions {
    /// One or more derivatives.
    pub redactions: Vec<Redaction>,
}

/// A derivative and the original it stands in for. What was covered, and why, may stand beside these fields.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Redaction {
    /// SHA-256 of the original, which a record of the job names among its photos.
    pub original: Digest,
    /// SHA-256 of the derivative.
    pub sha256: Digest,
    /// How many bytes the derivative has.
    pub bytes: u64,
    /// Media type of the derivative: `image/jpeg`.
    #[serde(rename = "type")]
    pub media_type: String,
}

impl Redaction {
    /// The derivative as a photo.
    pub fn photo(&self) -> PhotoRef {
        PhotoRef { sha256: self.sha256, bytes: self.bytes, media_type: self.media_type.clone() }
    }
}
