pub use job::event::PhotoPurpose;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What a photo shows. Sent in the header `x-photo` as JSON; the picture's bytes are the body.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct PhotoEntry {
    /// Job id.
    pub job: String,
    /// What it shows.
    pub purpose: PhotoPurpose,
    /// The bytes are a frame of the app's own viewfinder, at this moment.
    #[serde(default)]
    pub live: bool,
}

/// A photo that lay here without a record, and what it shows.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct FoundPhotoEntry {
    /// Its SHA-256.
    pub sha256: String,
    /// What it shows.
    pub purpose: PhotoPurpose,
}

/// What the camera was opened for; on disk before it opens, because the system may end the app meanwhile.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct CameraIntent {
    /// Job id.
    pub job: String,
    /// What the photo will show.
    pub purpose: PhotoPurpose,
    /// The form it belongs to ("reading", "intake", "part", "pin", "programming", "hand_over").
    pub form: String,
}
