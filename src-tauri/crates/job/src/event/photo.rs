use super::RecordKind;
use super::descriptor::{Descriptor, Field};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What a photo shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum PhotoPurpose {
    /// The vehicle as it arrived.
    Arrival,
    /// The VIN label or the odometer.
    Identity,
    /// A socket, connector, pin or wire.
    PinOut,
    /// The meter with a reading.
    Reading,
    /// A part, its box or its receipt.
    Part,
    /// Programming: charger, screen, bill.
    Programming,
    /// The repair, the old part, the hand-over.
    Repair,
}

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
    /// What it shows.
    pub purpose: PhotoPurpose,
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
    /// Its file lay here without a record, because the app was ended between the two, and was put on this job later.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub found_later: bool,
}

impl RecordKind for PhotoKept {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "photo_kept",
        &[
            Field::public("sha256"),
            Field::public("bytes"),
            Field::public("media_type"),
            Field::public("purpose"),
            Field::public("taken"),
            Field::public("width"),
            Field::public("height"),
            Field::public("has_preview"),
            Field::public("doubts"),
            Field::public("found_later"),
        ],
    );

    fn photos(&self) -> Vec<Digest> {
        vec![self.sha256]
    }
}
