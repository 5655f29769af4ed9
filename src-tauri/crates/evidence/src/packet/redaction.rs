//! Pictures that stand in for an original: something was covered in them, or what the original's file carried besides the
//! picture was taken out. The original's hash stays proven; the derivative's hash is stated by a record.

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
    /// Media type of the derivative.
    #[serde(rename = "type")]
    pub media_type: String,
    /// What was done to it; parts covered where nothing is said, as in older records. A word that isn't known here counts
    /// as parts covered, too: then no more is claimed than that it is not the original.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub change: Option<String>,
}

/// [`Redaction::change`] of a picture whose file was rid of everything but the picture; its pixels are the original's.
pub const METADATA_REMOVED: &str = "metadata_removed";

/// [`Redaction::change`] of a picture in which marks were drawn. It lies beside the original or another derivative; alone, it
/// stands in for the original like one with parts covered.
pub const MARKS_DRAWN: &str = "marks_drawn";

impl Redaction {
    /// Marks were drawn in, the record says.
    pub fn is_marked(&self) -> bool {
        self.change.as_deref() == Some(MARKS_DRAWN)
    }

    /// Only what the file carried besides the picture was taken out, the record says.
    pub fn is_stripped(&self) -> bool {
        self.change.as_deref() == Some(METADATA_REMOVED)
    }

    /// The derivative as a photo.
    pub fn photo(&self) -> PhotoRef {
        PhotoRef { sha256: self.sha256, bytes: self.bytes, media_type: self.media_type.clone() }
    }
}
