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
}

/// What a photo shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize, JsonSchema, TS)]
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

impl PhotoPurpose {
    /// Code as it stands in a record.
    pub fn code(self) -> &'static str {
        match self {
            PhotoPurpose::Arrival => "arrival",
            PhotoPurpose::Identity => "identity",
            PhotoPurpose::PinOut => "pin_out",
            PhotoPurpose::Reading => "reading",
            PhotoPurpose::Part => "part",
            PhotoPurpose::Programming => "programming",
            PhotoPurpose::Repair => "repair",
        }
    }
}
