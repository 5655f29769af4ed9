//! Is the picture whole, and how large is it? Answered without decoding a pixel.

use crate::{Kind, PhotoError, heif_boxes, jpeg_segments};
use image::{ImageFormat, ImageReader};
use std::io::Cursor;

/// Refuses what is empty, no picture, or stops before its end; otherwise says the kind.
pub(crate) fn whole_kind(bytes: &[u8]) -> Result<Kind, PhotoError> {
    if bytes.is_empty() {
        return Err(PhotoError::Empty);
    }
    let kind = Kind::of(bytes);
    let whole = match kind {
        Kind::Jpeg => jpeg_segments::is_whole(bytes),
        Kind::Png => png_is_whole(bytes),
        Kind::Webp => webp_is_whole(bytes),
        Kind::Heic => heif_boxes::is_whole(bytes),
        Kind::Unknown => return Err(PhotoError::NotAPicture),
    };
    if whole { Ok(kind) } else { Err(PhotoError::Truncated { kind }) }
}

/// Width and height in pixels as stored, before any turning. `None` only for a HEIC that does not say.
pub(crate) fn pixel_size(bytes: &[u8], kind: Kind) -> Result<Option<(u32, u32)>, PhotoError> {
    let size = match kind {
        Kind::Heic => return Ok(heif_boxes::pixel_size(bytes)),
        Kind::Jpeg => jpeg_segments::pixel_size(bytes),
        Kind::Png => header_size(bytes, ImageFormat::Png),
        Kind::Webp => header_size(bytes, ImageFormat::WebP),
        Kind::Unknown => None,
    };
    match size {
        Some((width, height)) if width > 0 && height > 0 => Ok(Some((width, height))),
        _ => Err(PhotoError::Damaged { kind, detail: "it does not say its size".into() }),
    }
}

fn header_size(bytes: &[u8], format: ImageFormat) -> Option<(u32, u32)> {
    ImageReader::with_format(Cursor::new(bytes), format).into_dimensions().ok()
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
