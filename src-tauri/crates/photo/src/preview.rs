//! Small upright JPEGs without any metadata, for the screen and for the report.

use crate::exif_fields::ExifFields;
use crate::{PhotoError, pixels, structure};
use image::codecs::jpeg::JpegEncoder;
use image::imageops::FilterType;
use image::{DynamicImage, Rgb, RgbImage};

/// JPEG quality of previews; enough to judge sharpness on a phone's screen.
pub const PREVIEW_QUALITY: u8 = 80;

/// Makes an upright JPEG for the screen, its longer side at most `longest_side` pixels (never enlarged).
///
/// The result is encoded anew and carries a JFIF header and nothing else: no EXIF, no position, no colour
/// profile, no embedded thumbnail.
///
/// # Errors
/// As [`crate::inspect`], and [`PhotoError::NoPreview`] for HEIC or pictures beyond the limits.
pub fn preview(bytes: &[u8], longest_side: u32) -> Result<Vec<u8>, PhotoError> {
    for_report(bytes, longest_side, PREVIEW_QUALITY)
}

/// The same for paper, with the JPEG quality (1 to 100, clamped) chosen by the report.
///
/// A PDF embeds a JPEG as it is, so whatever were left in it would be in the customer's file.
///
/// # Errors
/// As [`preview`].
pub fn for_report(bytes: &[u8], longest_side: u32, quality: u8) -> Result<Vec<u8>, PhotoError> {
    let kind = structure::whole_kind(bytes)?;
    let longest_side = longest_side.max(1);
    let picture = pixels::decode(bytes, kind, longest_side)?;
    let small = shrink(picture, longest_side);
    encode(&on_white(ExifFields::of(bytes).orientation.apply(small)), quality.clamp(1, 100))
}

/// First a quick box average to twice the size, then a smooth filter: fast for large pictures, no stair-steps.
fn shrink(picture: DynamicImage, longest_side: u32) -> DynamicImage {
    if picture.width().max(picture.height()) <= longest_side {
        return picture;
    }
    let twice = longest_side.saturating_mul(2);
    let picture =
        if picture.width().max(picture.height()) > twice { picture.thumbnail(twice, twice) } else { picture };
    picture.resize(longest_side, longest_side, FilterType::Triangle)
}

/// JPEG has no transparency; a screenshot's clear parts become white, as on paper.
fn on_white(picture: DynamicImage) -> RgbImage {
    if !picture.color().has_alpha() {
        return picture.into_rgb8();
    }
    let picture = picture.into_rgba8();
    let mut flat = RgbImage::new(picture.width(), picture.height());
    for (to, from) in flat.pixels_mut().zip(picture.pixels()) {
        let [red, green, blue, alpha] = from.0;
        *to = Rgb([red, green, blue].map(|value| over_white(value, alpha)));
    }
    flat
}

fn over_white(value: u8, alpha: u8) -> u8 {
    let sum = u32::from(value) * u32::from(alpha) + 255 * (255 - u32::from(alpha));
    u8::try_from(sum.div_ceil(255)).unwrap_or(u8::MAX)
}

fn encode(picture: &RgbImage, quality: u8) -> Result<Vec<u8>, PhotoError> {
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, quality)
        .encode_image(picture)
        .map_err(|error| PhotoError::Encode(error.to_string()))?;
    Ok(jpeg)
}
