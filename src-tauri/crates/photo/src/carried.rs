//! What a picture's file carries besides the picture.

use crate::exif_fields::{self, ExifFields};
use crate::pieces::{self, Beside, Piece};
use crate::{Kind, PhotoError, location, structure};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// Something that a file carries and a reader of the picture doesn't need. In the order in which it is to be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Carries {
    /// Where it was taken.
    Location,
    /// Serial number of the camera or the lens, or a number of this very picture.
    Serial,
    /// Name of the owner, the photographer or whoever holds the rights.
    Person,
    /// Make, model or software.
    Device,
    /// Date and time.
    Date,
    /// The camera maker's own notes; what stands in them is the maker's secret, serial numbers often among it.
    MakerNotes,
    /// A small picture inside the file. It may show what was cut off or covered later.
    Thumbnail,
    /// XMP data (ISO 16684-1).
    Xmp,
    /// IPTC data: names, places, captions.
    Iptc,
    /// Descriptions and comments.
    Text,
    /// Bytes behind the picture's end, such as a short video with sound.
    Appended,
    /// Anything else, such as exposure settings.
    Other,
}

/// What the bytes carry besides the picture. How it is turned, its size and its color profile don't count: without them the
/// picture would be another one.
///
/// # Errors
/// As [`crate::inspect`].
pub fn carried(bytes: &[u8]) -> Result<BTreeSet<Carries>, PhotoError> {
    let kind = structure::whole_kind(bytes)?;
    if kind == Kind::Heic {
        return Ok(in_heic(bytes));
    }
    let mut found = BTreeSet::new();
    for piece in pieces::of(bytes, kind)? {
        if let Piece::Beside(beside) = piece {
            found.extend(told_by(&beside));
        }
    }
    Ok(found)
}

/// The same picture without what [`carried`] finds: pixels bit by bit, color profile and orientation are kept. The kind of
/// the file stays.
///
/// # Errors
/// [`PhotoError::CannotStrip`] where that can't be done here (HEIC); as [`crate::inspect`] otherwise.
pub fn without_metadata(bytes: &[u8]) -> Result<Vec<u8>, PhotoError> {
    let kind = structure::whole_kind(bytes)?;
    let pieces = pieces::of(bytes, kind)?;
    let stripped = pieces::joined(pieces, kind, ExifFields::of(bytes).orientation.exif())?;
    // Asked of the result and not only of the way there: what goes out must be what was promised.
    if carried(&stripped)?.is_empty() { Ok(stripped) } else { Err(PhotoError::CannotStrip { kind }) }
}

fn told_by(beside: &Beside<'_>) -> BTreeSet<Carries> {
    let one = |what| BTreeSet::from([what]);
    match beside {
        Beside::Exif(block) => exif_fields::carried(block),
        Beside::Xmp(text) => in_xmp(text),
        Beside::Iptc => one(Carries::Iptc),
        Beside::Text => one(Carries::Text),
        Beside::Person => one(Carries::Person),
        Beside::Device => one(Carries::Device),
        Beside::Date => one(Carries::Date),
        Beside::Thumbnail => one(Carries::Thumbnail),
        Beside::Appended => one(Carries::Appended),
        Beside::Other => one(Carries::Other),
    }
}

/// Names of XMP properties (ISO 16684-1; the namespaces of EXIF, TIFF, IPTC and Adobe's `aux`) and what they tell.
const XMP_NAMES: [(&[u8], Carries); 17] = [
    (b"GPSLatitude", Carries::Location),
    (b"LocationCreated", Carries::Location),
    (b"LocationShown", Carries::Location),
    (b":City", Carries::Location),
    (b"SerialNumber", Carries::Serial),
    (b"ImageUniqueID", Carries::Serial),
    (b"OwnerName", Carries::Person),
    (b":Artist", Carries::Person),
    (b":creator", Carries::Person),
    (b":Author", Carries::Person),
    (b":Model", Carries::Device),
    (b"CreatorTool", Carries::Device),
    (b"CreateDate", Carries::Date),
    (b"ModifyDate", Carries::Date),
    (b"DateTimeOriginal", Carries::Date),
    (b"DateCreated", Carries::Date),
    (b":Thumbnails", Carries::Thumbnail),
];

fn in_xmp(text: &[u8]) -> BTreeSet<Carries> {
    let told = XMP_NAMES.iter().filter(|(name, _)| text.windows(name.len()).any(|window| window == *name));
    told.map(|(_, what)| *what).chain([Carries::Xmp]).collect()
}

/// A HEIF file is asked and not taken apart: EXIF by its reader, XMP by what XMP begins with.
fn in_heic(bytes: &[u8]) -> BTreeSet<Carries> {
    const XMP: &[u8] = b"http://www.w3.org/1999/02/22-rdf-syntax-ns#";
    let mut found = ExifFields::carried_in(bytes);
    if let Some(at) = bytes.windows(XMP.len()).position(|window| window == XMP) {
        found.extend(in_xmp(bytes.get(at..).unwrap_or_default()));
    }
    if location::in_xmp(bytes, Kind::Heic) {
        found.insert(Carries::Location);
    }
    found
}
