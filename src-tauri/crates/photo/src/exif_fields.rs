//! The few EXIF fields that matter as evidence.

use crate::capture_time::{CaptureTime, offset_minutes, wall_clock};
use crate::orientation::Orientation;
use crate::pieces::{self, Beside, Piece};
use crate::{Carries, Kind};
use exif::{Context, Error, Exif, Field, In, Reader, Tag, Value};
use std::collections::BTreeSet;
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

    /// What the block of a whole file tells; nothing where there is none or it can't be read.
    pub(crate) fn carried_in(file: &[u8]) -> BTreeSet<Carries> {
        read(file).map(|exif| told_by_all(&exif)).unwrap_or_default()
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

/// What an EXIF block alone tells. One that can't be read may tell anything.
pub(crate) fn carried(block: &[u8]) -> BTreeSet<Carries> {
    match whole_or_partial(Reader::new().continue_on_error(true).read_raw(block.to_vec())) {
        Some((exif, true)) => told_by_all(&exif),
        Some((exif, false)) => told_by_all(&exif).into_iter().chain([Carries::Other]).collect(),
        None => BTreeSet::from([Carries::Other]),
    }
}

fn told_by_all(exif: &Exif) -> BTreeSet<Carries> {
    exif.fields().filter_map(told_by).collect()
}

/// Fields that a picture needs to be shown as it was meant, or that say only how the block is written.
const HARMLESS: [Tag; 14] = [
    Tag::Orientation,
    Tag::XResolution,
    Tag::YResolution,
    Tag::ResolutionUnit,
    Tag::YCbCrPositioning,
    Tag::YCbCrCoefficients,
    Tag::ReferenceBlackWhite,
    Tag::ExifVersion,
    Tag::FlashpixVersion,
    Tag::ColorSpace,
    Tag::ComponentsConfiguration,
    Tag::PixelXDimension,
    Tag::PixelYDimension,
    Tag::InteroperabilityIndex,
];
/// Microsoft's fields for a title, a comment, an author, keywords and a subject, and DNG's serial number.
const XP_TEXTS: [u16; 4] = [0x9c9b, 0x9c9c, 0x9c9e, 0x9c9f];
const XP_AUTHOR: u16 = 0x9c9d;
const CAMERA_SERIAL: u16 = 0xc62f;

fn told_by(field: &Field) -> Option<Carries> {
    if field.ifd_num != In::PRIMARY {
        return Some(Carries::Thumbnail);
    }
    let Tag(context, number) = field.tag;
    let told = match field.tag {
        Tag::GPSVersionID => return None,
        Tag::GPSTimeStamp | Tag::GPSDateStamp => Carries::Date,
        _ if context == Context::Gps => Carries::Location,
        Tag::BodySerialNumber | Tag::LensSerialNumber | Tag::ImageUniqueID => Carries::Serial,
        Tag::Artist | Tag::Copyright | Tag::CameraOwnerName => Carries::Person,
        Tag::Make | Tag::Model | Tag::LensMake | Tag::LensModel | Tag::Software => Carries::Device,
        Tag::DateTime
        | Tag::DateTimeOriginal
        | Tag::DateTimeDigitized
        | Tag::OffsetTime
        | Tag::OffsetTimeOriginal
        | Tag::OffsetTimeDigitized
        | Tag::SubSecTime
        | Tag::SubSecTimeOriginal
        | Tag::SubSecTimeDigitized => Carries::Date,
        Tag::MakerNote => Carries::MakerNotes,
        Tag::ImageDescription | Tag::UserComment => Carries::Text,
        tag if HARMLESS.contains(&tag) => return None,
        _ if number == CAMERA_SERIAL => Carries::Serial,
        _ if number == XP_AUTHOR => Carries::Person,
        _ if XP_TEXTS.contains(&number) => Carries::Text,
        _ => Carries::Other,
    };
    Some(told)
}

fn read(bytes: &[u8]) -> Option<Exif> {
    let found = Reader::new().continue_on_error(true).read_from_container(&mut Cursor::new(bytes));
    let (exif, _) = whole_or_partial(found).or_else(|| read_block(bytes))?;
    Some(exif)
}

/// The first block that the file's own pieces show: some writers of WebP put JPEG's name of the block before it, which the
/// reader doesn't take.
fn read_block(bytes: &[u8]) -> Option<(Exif, bool)> {
    let block = pieces::of(bytes, Kind::of(bytes)).ok()?.into_iter().find_map(|piece| match piece {
        Piece::Beside(Beside::Exif(block)) => Some(block.to_vec()),
        _ => None,
    })?;
    whole_or_partial(Reader::new().continue_on_error(true).read_raw(block))
}

/// What could be read, and whether that is all of it.
fn whole_or_partial(found: Result<Exif, Error>) -> Option<(Exif, bool)> {
    match found {
        Ok(exif) => Some((exif, true)),
        Err(Error::PartialResult(partial)) => Some((partial.into_inner().0, false)),
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
