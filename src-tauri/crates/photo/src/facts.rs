//! What a picture says about itself, and what is doubtful about it.

use crate::exif_fields::ExifFields;
use crate::{CaptureTime, Kind, Orientation, PhotoError, WhyNoPreview, jpeg, location, pixels, structure};
use chrono::{DateTime, NaiveDateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

/// Cameras and phones run a little apart; common practice, no source.
const CLOCK_SLACK: TimeDelta = TimeDelta::minutes(2);
/// The most eastern wall clock on Earth is 14 hours ahead of UTC (IANA time zone data, Pacific/Kiritimati).
const EASTERNMOST: TimeDelta = TimeDelta::hours(14);

/// Width and height in pixels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct PixelSize {
    /// Columns.
    pub width: u32,
    /// Rows.
    pub height: u32,
}

/// Can a small picture be shown?
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Preview {
    /// Yes, as far as the header tells.
    Possible,
    /// No, and why; the original is kept all the same.
    NotPossible(WhyNoPreview),
}

/// What a reader of the evidence should know before trusting the picture's own words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Doubt {
    /// The camera wrote no capture time.
    NoTime,
    /// The capture time is there but is no date.
    UnreadableTime,
    /// The capture time has no UTC offset, so the instant is not known.
    NoOffset,
    /// The capture time lies after `now`, in every time zone if it has no offset.
    TimeInFuture,
    /// The file stops before the picture's end: a part of it is missing.
    CutOff,
}

/// What the bytes say. Nothing here is proof: EXIF can be written by anyone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Facts {
    /// The kind told by the first bytes; its [`Kind::media_type`] goes into the record.
    pub kind: Kind,
    /// As stored, before turning; `None` if a HEIC does not say, or the file stops before it is said.
    pub size: Option<PixelSize>,
    /// The camera's capture time.
    pub taken: Option<CaptureTime>,
    /// As EXIF says. A HEIC is turned by its own `irot` and `imir` boxes instead.
    pub orientation: Orientation,
    /// A position is inside: strip it before the picture leaves the shop ([`crate::for_report`] does).
    pub has_location: bool,
    /// Whether a small picture can be shown.
    pub preview: Preview,
    /// In a fixed order, each at most once.
    pub doubts: Vec<Doubt>,
}

impl Facts {
    /// Width and height as seen after turning.
    #[must_use]
    pub fn upright_size(&self) -> Option<PixelSize> {
        let PixelSize { width, height } = self.size?;
        let turned = self.kind != Kind::Heic && self.orientation.swaps_sides();
        Some(if turned { PixelSize { width: height, height: width } } else { PixelSize { width, height } })
    }
}

/// Reads the facts. `now` is the reader's clock, for the doubt about the future. No pixel is decoded, unless the picture was cut
/// off: whether anything of it can be shown is then tried.
///
/// # Errors
/// [`PhotoError::Empty`] and [`PhotoError::NotAPicture`]. A picture that was cut off or is damaged is none: it can be kept.
pub fn inspect(bytes: &[u8], now: DateTime<Utc>) -> Result<Facts, PhotoError> {
    let kind = structure::kind(bytes)?;
    let size = structure::pixel_size(bytes, kind).ok().flatten();
    let size = size.map(|(width, height)| PixelSize { width, height });
    let exif = ExifFields::of(bytes);
    let mut doubts = doubts(&exif, now);
    let whole = structure::is_whole(bytes, kind);
    if !whole {
        doubts.push(Doubt::CutOff);
    }
    Ok(Facts {
        kind,
        size,
        taken: exif.taken,
        orientation: exif.orientation,
        has_location: exif.has_location || location::in_xmp(bytes, kind),
        preview: preview_sign(bytes, kind, size, whole),
        doubts,
    })
}

fn preview_sign(bytes: &[u8], kind: Kind, size: Option<PixelSize>, whole: bool) -> Preview {
    match size {
        _ if kind == Kind::Heic => Preview::NotPossible(WhyNoPreview::Heic),
        Some(PixelSize { width, height }) if pixels::too_many(width, height) => {
            Preview::NotPossible(WhyNoPreview::TooLarge)
        }
        _ if kind == Kind::Jpeg && jpeg::is_rare(bytes) => Preview::NotPossible(WhyNoPreview::Rare),
        Some(PixelSize { width, height }) if !whole => {
            match pixels::fitted(bytes, kind, pixels::shape((width, height), 64)) {
                Ok(_) => Preview::Possible,
                Err(PhotoError::NoPreview(why)) => Preview::NotPossible(why),
                Err(_) => Preview::NotPossible(WhyNoPreview::Unreadable),
            }
        }
        Some(_) => Preview::Possible,
        None => Preview::NotPossible(WhyNoPreview::Unreadable),
    }
}

fn doubts(exif: &ExifFields, now: DateTime<Utc>) -> Vec<Doubt> {
    let Some(taken) = exif.taken else {
        return vec![if exif.time_unreadable { Doubt::UnreadableTime } else { Doubt::NoTime }];
    };
    let mut doubts = Vec::new();
    if taken.offset_minutes.is_none() {
        doubts.push(Doubt::NoOffset);
    }
    if earliest_utc(&taken) > now.naive_utc() + CLOCK_SLACK {
        doubts.push(Doubt::TimeInFuture);
    }
    doubts
}

/// The earliest the picture can have been taken, in UTC.
fn earliest_utc(taken: &CaptureTime) -> NaiveDateTime {
    match taken.instant() {
        Some(instant) => instant.naive_utc(),
        None => taken.wall.checked_sub_signed(EASTERNMOST).unwrap_or(taken.wall),
    }
}
