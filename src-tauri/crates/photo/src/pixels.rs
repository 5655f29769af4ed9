//! From bytes to pixels, within stated limits, and no more of them than needed.

use crate::{Kind, PhotoError, WhyNoPreview, structure};
use image::{DynamicImage, GrayImage, ImageFormat, ImageReader, Limits, RgbImage};
use jpeg_decoder::{Decoder, PixelFormat};
use std::io::Cursor;

/// Most pixels of a picture that is shown: 200 megapixels, the largest phone sensors sold in 2025 (from memory).
pub const MAX_PIXELS: u64 = 200_000_000;
/// Most memory a decoder may take: 200 megapixels of three bytes, and a little. A baseline JPEG takes far less,
/// because it is decoded straight to a smaller scale.
pub const MAX_DECODE_BYTES: u64 = 640_000_000;

pub(crate) fn too_many(width: u32, height: u32) -> bool {
    u64::from(width) * u64::from(height) > MAX_PIXELS
}

/// Decodes to a picture whose longer side is at least `longest_side` (or whole, if it is smaller). Not turned.
pub(crate) fn decode(bytes: &[u8], kind: Kind, longest_side: u32) -> Result<DynamicImage, PhotoError> {
    let (width, height) = structure::pixel_size(bytes, kind)?.unwrap_or_default();
    if too_many(width, height) {
        return Err(PhotoError::NoPreview(WhyNoPreview::TooLarge));
    }
    match kind {
        Kind::Heic => Err(PhotoError::NoPreview(WhyNoPreview::Heic)),
        Kind::Unknown => Err(PhotoError::NotAPicture),
        Kind::Png => decode_whole(bytes, kind, ImageFormat::Png),
        Kind::Webp => decode_whole(bytes, kind, ImageFormat::WebP),
        // Rare forms (CMYK, twelve bits) that the scaling decoder does not give go to the other decoder.
        Kind::Jpeg => match decode_scaled(bytes, width.max(height), longest_side) {
            Some(picture) => Ok(picture),
            None => decode_whole(bytes, kind, ImageFormat::Jpeg),
        },
    }
}

/// The discrete cosine transform of a JPEG gives 1/8, 1/4 and 1/2 scale for free.
fn decode_scaled(bytes: &[u8], stored_side: u32, longest_side: u32) -> Option<DynamicImage> {
    let mut decoder = Decoder::new(Cursor::new(bytes));
    decoder.set_max_decoding_buffer_size(usize::try_from(MAX_DECODE_BYTES).ok()?);
    decoder.read_info().ok()?;
    let info = decoder.info()?;
    let share = |side: u16| {
        let wanted = u64::from(side) * u64::from(longest_side) / u64::from(stored_side.max(1));
        u16::try_from(wanted.clamp(1, u64::from(side.max(1)))).unwrap_or(side)
    };
    let (width, height) = decoder.scale(share(info.width), share(info.height)).ok()?;
    let samples = decoder.decode().ok()?;
    match info.pixel_format {
        PixelFormat::L8 => GrayImage::from_raw(width.into(), height.into(), samples).map(Into::into),
        PixelFormat::RGB24 => RgbImage::from_raw(width.into(), height.into(), samples).map(Into::into),
        PixelFormat::L16 | PixelFormat::CMYK32 => None,
    }
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
