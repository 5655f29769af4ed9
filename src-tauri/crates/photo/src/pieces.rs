//! A picture's file taken apart: what is the picture, and what was saved beside it.
//!
//! One walk serves both questions, what a file carries and what is left of it without that, so that nothing can be named and
//! left in, or taken out and not named. What isn't known to be the picture counts as beside it.

mod jpeg;
mod png;
mod webp;

use crate::{Kind, PhotoError};
use std::borrow::Cow;

/// A piece of a file, in the order of the file.
pub(crate) enum Piece<'a> {
    /// Needed to show the picture as it was meant: pixels, size, color profile.
    Picture(Cow<'a, [u8]>),
    /// Saved beside it.
    Beside(Beside<'a>),
}

/// What is saved beside a picture.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Beside<'a> {
    /// An EXIF block (CIPA DC-008): a TIFF header and its fields.
    Exif(&'a [u8]),
    /// XMP (ISO 16684-1) as text; compressed where a PNG has it so.
    Xmp(&'a [u8]),
    /// IPTC fields, in a Photoshop block or as the profile that ImageMagick writes.
    Iptc,
    /// Free text.
    Text,
    /// Who made it.
    Person,
    /// What it was made with.
    Device,
    /// When it was made or changed.
    Date,
    /// A small picture inside the file.
    Thumbnail,
    /// Bytes behind the picture's end: often a short video.
    Appended,
    /// Anything else.
    Other,
}

/// Takes a file apart.
///
/// # Errors
/// [`PhotoError::Damaged`] for one that can't be followed to its end, [`PhotoError::NotAPicture`], and
/// [`PhotoError::CannotStrip`] for HEIC, whose parts refer to each other by place.
pub(crate) fn of(bytes: &[u8], kind: Kind) -> Result<Vec<Piece<'_>>, PhotoError> {
    let pieces = match kind {
        Kind::Jpeg => jpeg::pieces(bytes),
        Kind::Png => png::pieces(bytes),
        Kind::Webp => webp::pieces(bytes),
        Kind::Heic => return Err(PhotoError::CannotStrip { kind }),
        Kind::Unknown => return Err(PhotoError::NotAPicture),
    };
    pieces
        .ok_or_else(|| PhotoError::Damaged { kind, detail: "its parts can't be followed to its end".into() })
}

/// The file of the picture alone. `orientation` is the EXIF value, which is all that is written down anew, and only where
/// it turns the picture.
pub(crate) fn joined(pieces: Vec<Piece<'_>>, kind: Kind, orientation: u32) -> Result<Vec<u8>, PhotoError> {
    let picture: Vec<Cow<'_, [u8]>> = pieces
        .into_iter()
        .filter_map(|piece| match piece {
            Piece::Picture(bytes) => Some(bytes),
            Piece::Beside(_) => None,
        })
        .collect();
    let turned = (orientation != 1).then(|| turned(orientation));
    let joined = match kind {
        Kind::Jpeg => jpeg::joined(picture, turned.as_deref()),
        Kind::Png => png::joined(picture, turned.as_deref()),
        Kind::Webp => webp::joined(picture, turned.as_deref()),
        Kind::Heic | Kind::Unknown => None,
    };
    joined.ok_or(PhotoError::CannotStrip { kind })
}

/// An EXIF block that says the orientation and nothing else: tag 0x0112, one SHORT, big-endian (TIFF 6.0, section 2).
fn turned(orientation: u32) -> Vec<u8> {
    let mut block = b"MM\0\x2A\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
    block.push(u8::try_from(orientation).unwrap_or(1));
    block.extend([0; 6]);
    block
}

fn picture(bytes: &[u8]) -> Piece<'_> {
    Piece::Picture(Cow::Borrowed(bytes))
}
