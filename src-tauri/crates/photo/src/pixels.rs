//! From bytes to pixels, within stated limits, and no more of them than needed.

use crate::shrink::Shrink;
use crate::{Kind, PhotoError, WhyNoPreview, jpeg, png_rows, structure};
use image::{DynamicImage, ImageFormat, ImageReader, Limits, RgbImage};
use std::io::Cursor;

/// Most pixels of a picture that is shown: 200 megapixels, the largest phone sensors sold in 2025 (from memory).
pub const MAX_PIXELS: u64 = 200_000_000;
/// Most memory a decoder may take: 200 megapixels of three bytes, and a little. That is for WebP, interlaced PNG and JPEGs with
/// inks or cut off, which are decoded whole; other JPEGs are decoded straight to a smaller scale and a PNG row by row.
pub const MAX_DECODE_BYTES: u64 = 640_000_000;

pub(crate) fn too_many(width: u32, height: u32) -> bool {
    u64::from(width) * u64::from(height) > MAX_PIXELS
}

/// Decodes to exactly `target`, which is no larger than the stored picture and has its shape. Not turned.
pub(crate) fn fitted(bytes: &[u8], kind: Kind, target: (u32, u32)) -> Result<RgbImage, PhotoError> {
    let stored = size_within_limits(bytes, kind)?;
    // A decoded eighth may reach half a pixel beyond the picture's edge: with a quarter more to average over, that isn't seen.
    let wanted = target.0.max(target.1);
    let eighths = eighths(stored.0.max(stored.1), wanted.saturating_add(wanted / 4));
    drawn(bytes, kind, stored, eighths, Some(target))
}

/// Decodes to a picture whose longer side is at least `longest_side` and about twice that at most (or whole, if it is
/// smaller). Not turned.
pub(crate) fn decode(bytes: &[u8], kind: Kind, longest_side: u32) -> Result<DynamicImage, PhotoError> {
    let stored = size_within_limits(bytes, kind)?;
    let longer = stored.0.max(stored.1);
    // Halves of halves: what looks at pixels was measured on these scales.
    let eighths = eighths(longer, longest_side).next_power_of_two();
    let target = (kind != Kind::Jpeg && longer / 2 > longest_side).then(|| shape(stored, longest_side));
    drawn(bytes, kind, stored, eighths, target).map(Into::into)
}

/// Width and height in the shape of a stored picture with this longer side; never larger than it.
pub(crate) fn shape((width, height): (u32, u32), longest_side: u32) -> (u32, u32) {
    let longer = u64::from(width.max(height).max(1));
    let wanted = u64::from(longest_side.max(1)).min(longer);
    let share = |side: u32| u32::try_from((u64::from(side) * wanted + longer / 2) / longer).unwrap_or(side);
    (share(width).max(1), share(height).max(1))
}

fn size_within_limits(bytes: &[u8], kind: Kind) -> Result<(u32, u32), PhotoError> {
    if kind == Kind::Heic {
        return Err(PhotoError::NoPreview(WhyNoPreview::Heic));
    }
    let (width, height) = structure::pixel_size(bytes, kind)?.unwrap_or_default();
    if too_many(width, height) {
        return Err(PhotoError::NoPreview(WhyNoPreview::TooLarge));
    }
    Ok((width, height))
}

/// The fewest eighths of a side that are at least as long as what is wanted.
fn eighths(stored: u32, wanted: u32) -> usize {
    let eighths = (u64::from(wanted) * 8).div_ceil(u64::from(stored.max(1)));
    usize::try_from(eighths.clamp(1, 8)).unwrap_or(8)
}

fn drawn(
    bytes: &[u8],
    kind: Kind,
    stored: (u32, u32),
    eighths: usize,
    target: Option<(u32, u32)>,
) -> Result<RgbImage, PhotoError> {
    let damaged = |detail: String| PhotoError::Damaged { kind, detail };
    match kind {
        Kind::Heic => Err(PhotoError::NoPreview(WhyNoPreview::Heic)),
        Kind::Unknown => Err(PhotoError::NotAPicture),
        Kind::Jpeg if jpeg::is_rare(bytes) => Err(PhotoError::NoPreview(WhyNoPreview::Rare)),
        Kind::Jpeg => {
            let picture = match jpeg::scaled(bytes, stored, eighths) {
                Some(picture) => picture,
                None => decode_whole(bytes, kind, ImageFormat::Jpeg)?,
            };
            Ok(small(&picture, target))
        }
        Kind::Png if !png_rows::is_interlaced(bytes) => {
            let mut small = Shrink::new(stored, target.unwrap_or(stored));
            png_rows::rows(bytes, |row| small.take(row)).map_err(damaged)?;
            Ok(small.finish())
        }
        Kind::Png => decode_whole(bytes, kind, ImageFormat::Png).map(|picture| small(&picture, target)),
        Kind::Webp => decode_whole(bytes, kind, ImageFormat::WebP).map(|picture| small(&picture, target)),
    }
}

/// Made smaller row by row, so that beside the whole picture only a row is held.
fn small(picture: &DynamicImage, target: Option<(u32, u32)>) -> RgbImage {
    let size = (picture.width(), picture.height());
    let mut small = Shrink::new(size, target.unwrap_or(size));
    for y in 0..size.1 {
        let row = picture.crop_imm(0, y, size.0, 1);
        if row.color().has_alpha() {
            let flat: Vec<u8> = row.into_rgba8().pixels().flat_map(|pixel| on_white(pixel.0)).collect();
            small.take(&flat);
        } else {
            small.take(row.into_rgb8().as_raw());
        }
    }
    small.finish()
}

/// JPEG has no transparency; a screenshot's clear parts become white, as on paper.
pub(crate) fn on_white([red, green, blue, alpha]: [u8; 4]) -> [u8; 3] {
    [red, green, blue].map(|value| {
        let sum = u32::from(value) * u32::from(alpha) + 255 * (255 - u32::from(alpha));
        u8::try_from(sum.div_ceil(255)).unwrap_or(u8::MAX)
    })
}

fn decode_whole(bytes: &[u8], kind: Kind, format: ImageFormat) -> Result<DynamicImage, PhotoError> {
    let mut limits = Limits::default();
    limits.max_alloc = Some(MAX_DECODE_BYTES);
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    reader.limits(limits);
    reader.decode().map_err(|error| match error {
        image::ImageError::Limits(_) => PhotoError::NoPreview(WhyNoPreview::TooLarge),
        other => PhotoError::Damaged { kind, detail: other.to_string() },
    })
}
