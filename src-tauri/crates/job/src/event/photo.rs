use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A photo, sealed the moment its bytes were durable.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PhotoKept {
    /// SHA-256 of the first bytes the app received.
    pub sha256: Digest,
    /// Size in bytes, decimal.
    pub bytes: String,
    /// Media type.
    pub media_type: String,
    /// What it shows: arrival, identity, pin_out, reading, part, programming, repair.
    pub purpose: String,
    /// Time the camera wrote into the picture ("2026-11-03T09:14:05", with offset when the camera wrote one); empty when none.
    #[serde(default)]
    pub taken: String,
    /// Width in pixels, 0 when unknown.
    #[serde(default)]
    pub width: u32,
    /// Height in pixels, 0 when unknown.
    #[serde(default)]
    pub height: u32,
    /// Whether a preview could be made.
    #[serde(default)]
    pub has_preview: bool,
    /// Doubt codes found when it was kept.
    #[serde(default)]
    pub doubts: Vec<String>,
}
