use super::RecordKind;
use super::descriptor::{Descriptor, Field};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Copies of photos that go out in place of the originals: areas are covered in them (faces, plates), or what the file
/// carried besides the picture was taken out. The originals stay as they are, and their hashes stay proven. The field names
/// are those of [`evidence::packet::redaction`].
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PhotoRedacted {
    /// One or more copies.
    pub redactions: Vec<CoveredCopy>,
}

/// A copy and the original it stands in for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoveredCopy {
    /// SHA-256 of the original.
    pub original: Digest,
    /// SHA-256 of the copy.
    pub sha256: Digest,
    /// Size of the copy in bytes.
    pub bytes: u64,
    /// Media type of the copy.
    #[serde(rename = "type")]
    pub media_type: String,
    /// What is covered; nothing where only metadata was removed.
    pub areas: Vec<CoveredArea>,
    /// What was done to the copy; areas were covered in those of older records, which don't say.
    #[serde(default, skip_serializing_if = "CopyChange::is_covered")]
    pub change: CopyChange,
    /// Record of the marks that are drawn in; absent where none are.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub marks: Option<Digest>,
}

/// How a copy differs from its original.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CopyChange {
    /// Areas are painted over; the copy is encoded anew.
    #[default]
    AreasCovered,
    /// Every pixel is the original's; what the file carried besides the picture isn't there.
    MetadataRemoved,
    /// Marks are drawn in, and areas painted over above them where there are any; the copy is encoded anew. It goes out beside
    /// the original or another copy, never in their place.
    MarksDrawn,
}

impl CopyChange {
    /// Areas are painted over.
    #[must_use]
    pub fn is_covered(&self) -> bool {
        *self == Self::AreasCovered
    }
}

/// A rectangle in thousandths of the upright picture's width and height, from its upper left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoveredArea {
    /// From the left.
    pub left: u32,
    /// From above.
    pub top: u32,
    /// Width.
    pub width: u32,
    /// Height.
    pub height: u32,
}

impl RecordKind for PhotoRedacted {
    const DESCRIPTOR: Descriptor = Descriptor::new("photo_redacted", &[Field::public("redactions")]);
}
