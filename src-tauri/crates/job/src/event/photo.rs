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
    /// A message of the customer, a signed paper, a payment slip.
    Message,
    /// A supplier's quote or bill.
    SupplierPaper,
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
    /// It is the frame that this app's own viewfinder showed at the shutter, so it was taken when it was kept. Absent for a
    /// picture that a camera app or a file brought.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub live: bool,
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
            Field::public("live"),
        ],
    );

    fn photos(&self) -> Vec<Digest> {
        vec![self.sha256]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A body as it was sealed before there were live frames: read and written again it is the same, byte for byte.
    #[test]
    fn what_was_kept_before_there_were_live_frames_reads_and_writes_the_same() {
        let sealed = format!(
            r#"{{"sha256":"{}","bytes":"2481133","media_type":"image/jpeg","purpose":"reading","taken":"2026-11-03T09:14:05","width":4000,"height":3000,"has_preview":true,"doubts":[]}}"#,
            Digest::of(b"a picture")
        );
        let kept: PhotoKept = serde_json::from_str(&sealed).unwrap();
        assert!(!kept.live);
        assert_eq!(serde_json::to_string(&kept).unwrap(), sealed);
        let live = serde_json::to_string(&PhotoKept { live: true, ..kept }).unwrap();
        assert!(live.ends_with(r#""doubts":[],"live":true}"#), "{live}");
    }
}
