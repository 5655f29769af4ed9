use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A copy of a photo in which areas are covered (faces, plates). The original stays as it is, and its hash stays proven.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PhotoCovered {
    /// SHA-256 of the original.
    pub original: Digest,
    /// SHA-256 of the copy.
    pub copy: Digest,
    /// Size of the copy in bytes, decimal.
    pub bytes: String,
    /// Media type of the copy.
    pub media_type: String,
    /// What is covered.
    pub areas: Vec<CoveredArea>,
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
