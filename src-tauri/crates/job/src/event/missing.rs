use super::RecordKind;
use super::check::Unusable;
use super::descriptor::{Descriptor, Field};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Originals that this device kept and no longer has, noticed when something was about to go out. A reader of the packet
/// then knows a lost photo from one that was left out. The field names are those of [`evidence::packet::missing`].
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PhotoMissing {
    /// One or more photos.
    pub missing: Vec<MissingPhoto>,
}

/// A photo whose original is lost.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MissingPhoto {
    /// SHA-256 of the original.
    pub original: Digest,
    /// What was found in its place.
    pub found: FoundInstead,
}

/// What was found where an original should lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FoundInstead {
    /// No file.
    Nothing,
    /// A file with other bytes, or one that can't be read.
    OtherBytes,
}

impl RecordKind for PhotoMissing {
    const DESCRIPTOR: Descriptor = Descriptor::new("photo_missing", &[Field::public("missing")]);

    fn check(&self) -> Result<(), Unusable> {
        if self.missing.is_empty() { Err(Unusable::new("missing", "it names no photo")) } else { Ok(()) }
    }
}
