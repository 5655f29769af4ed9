//! The few EXIF fields that matter as evidence.

use crate::capture_time::{CaptureTime, offset_minutes, wall_clock};
use crate::orientation::Orientation;
use exif::{Context, Error, Exif, In, Reader, Tag, Value};
use std::io::Cursor;

/// What the EXIF block says; all of it may be missing.
#[derive(Debug, Default)]
pub(crate) struct ExifFields {
    pub(crate) taken: Option<CaptureTime>,
    /// DateTimeOriginal is there but is no date.
    pub(crate) time_unreadable: bool,
    pub(crate) orientation: Orientation,
    pub(crate) has_location: bool,
}

impl ExifFields {
    /// Reads what can be read: a damaged EXIF block costs its damaged fields, never the picture.
    pub(crate) fn of(bytes: &[u8]) -> Self {
        read(bytes).map(|exif| Self::from_exif(&exif)).unwrap_or_default()
    }

    fn from_exif(exif: &Exif) -> Self {
        let taken = capture_time(exif);
        let time_unreadable = taken.is_none() && says_something(text(exif, Tag::DateTimeOriginal));
        let orientation = exif
            .get_field(Tag::Orientation, In::PRIMARY)
            .and_then(|field| field.value.get_uint(0))
            .map(Orientation::from_exif)
            .unwrap_or_default();
        Self { taken, time_unreadable, orientation, has_location: has_location(exif) }
    }
}

fn read(bytes: &[u8]) -> Option<Exif> {
    match Reader::new().continue_on_error(true).read_from_container(&mut Cursor::new(bytes)) {
        Ok(exif) => Some(exif),
        Err(Error::PartialResult(partial)) => Some(partial.into_inner().0),
        Err(_) => None,
    }
}

fn capture_time(exif: &Exif) -> Option<CaptureTime> {
    let fraction = text(exif, Tag::SubSecTimeOriginal);
    let wall = wall_clock(text(exif, Tag::DateTimeOriginal)?, fraction)?;
    Some(CaptureTime { wall, offset_minutes: text(exif, Tag::OffsetTimeOriginal).and_then(offset_minutes) })
}

fn text(exif: &Exif, tag: Tag) -> Option<&[u8]> {
    match &exif.get_field(tag, In::PRIMARY)?.value {
        Value::Ascii(lines) => lines.first().map(Vec::as_slice),
        _ => None,
    }
}

/// The standard writes "unknown" as blanks, cameras write zeros: neither is a claim.
fn says_something(text: Option<&[u8]>) -> bool {
    text.is_some_and(|text| text.iter().any(|byte| !matches!(byte, b' ' | b':' | b'0' | 0)))
}

/// Any GPS field but the version and the satellite clock can tell where the picture was taken.
fn has_location(exif: &Exif) -> bool {
    let harmless = [Tag::GPSVersionID, Tag::GPSTimeStamp, Tag::GPSDateStamp];
    exif.fields().any(|field| field.tag.context() == Context::Gps && !harmless.contains(&field.tag))
}
