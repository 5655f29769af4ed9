//! Is the picture whole, and how large is it? Answered without decoding a pixel.

use crate::{Kind, PhotoError, WhyNoPreview, heif_boxes, jpeg_segments};

/// Refuses what is empty or no picture; otherwise says the kind, whole or not.
pub(crate) fn kind(bytes: &[u8]) -> Result<Kind, PhotoError> {
    match Kind::of(bytes) {
        _ if bytes.is_empty() => Err(PhotoError::Empty),
        Kind::Unknown => Err(PhotoError::NotAPicture),
        kind => Ok(kind),
    }
}

/// The same, and refuses what stops before its end.
pub(crate) fn whole_kind(bytes: &[u8]) -> Result<Kind, PhotoError> {
    let kind = kind(bytes)?;
    if is_whole(bytes, kind) { Ok(kind) } else { Err(PhotoError::Truncated { kind }) }
}

/// The end is there. A picture without it is kept all the same, and what is there of it is shown.
pub(crate) fn is_whole(bytes: &[u8], kind: Kind) -> bool {
    match kind {
        Kind::Jpeg => jpeg_segments::is_whole(bytes),
        Kind::Png => png_is_whole(bytes),
        Kind::Webp => webp_is_whole(bytes),
        Kind::Heic => heif_boxes::is_whole(bytes),
        Kind::Unknown => false,
    }
}

/// What keeps a picture from being shown; where it was cut off, that is why.
pub(crate) fn cut_or(error: PhotoError, bytes: &[u8], kind: Kind) -> PhotoError {
    match error {
        PhotoError::Damaged { .. } if !is_whole(bytes, kind) => {
            PhotoError::NoPreview(WhyNoPreview::Unreadable)
        }
        other => other,
    }
}

/// Width and height in pixels as stored, before any turning. `None` only for a HEIC that does not say.
pub(crate) fn pixel_size(bytes: &[u8], kind: Kind) -> Result<Option<(u32, u32)>, PhotoError> {
    let size = match kind {
        Kind::Heic => return Ok(heif_boxes::pixel_size(bytes)),
        Kind::Jpeg => jpeg_segments::pixel_size(bytes),
        Kind::Png => png_size(bytes),
        Kind::Webp => webp_size(bytes),
        Kind::Unknown => None,
    };
    match size {
        Some((width, height)) if width > 0 && height > 0 => Ok(Some((width, height))),
        _ => Err(PhotoError::Damaged { kind, detail: "it does not say its size".into() }),
    }
}

/// The header is the first chunk (PNG, 11.2.1).
fn png_size(bytes: &[u8]) -> Option<(u32, u32)> {
    let header = bytes.get(12..24)?.strip_prefix(b"IHDR")?;
    let (width, height) = header.split_at_checked(4)?;
    Some((u32::from_be_bytes(width.try_into().ok()?), u32::from_be_bytes(height.try_into().ok()?)))
}

/// In the first chunk, in one of three forms (RFC 9649, sections 2.5 to 2.7).
fn webp_size(bytes: &[u8]) -> Option<(u32, u32)> {
    let number = |at: usize, count: usize| {
        let field = bytes.get(at..at + count)?;
        Some(field.iter().rev().fold(0_u32, |number, byte| number << 8 | u32::from(*byte)))
    };
    match bytes.get(12..16)? {
        b"VP8X" => Some((number(24, 3)? + 1, number(27, 3)? + 1)),
        b"VP8L" => {
            let both = number(21, 4)?;
            Some(((both & 0x3FFF) + 1, (both >> 14 & 0x3FFF) + 1))
        }
        // Behind the frame's tag of three bytes and its start code; the upper two bits ask for a scale and are no size.
        b"VP8 " => Some((number(26, 2)? & 0x3FFF, number(28, 2)? & 0x3FFF)),
        _ => None,
    }
}

/// PNG chunks: length, name, data, checksum; the last is IEND.
fn png_is_whole(bytes: &[u8]) -> bool {
    let mut rest = bytes.get(8..).unwrap_or_default();
    while let Some((name, after)) = png_chunk(rest) {
        if name == b"IEND" {
            return true;
        }
        rest = after;
    }
    false
}

/// The first chunk's name and what follows it.
pub(crate) fn png_chunk(bytes: &[u8]) -> Option<(&[u8], &[u8])> {
    let length = usize::try_from(u32::from_be_bytes(bytes.get(..4)?.try_into().ok()?)).ok()?;
    Some((bytes.get(4..8)?, bytes.get(length.checked_add(12)?..)?))
}

/// RFC 9649: the RIFF size counts everything after its own field.
fn webp_is_whole(bytes: &[u8]) -> bool {
    let stated = bytes.get(4..8).and_then(|field| field.try_into().ok()).map(u32::from_le_bytes);
    stated.is_some_and(|size| u64::from(size) + 8 <= bytes.len() as u64)
}
