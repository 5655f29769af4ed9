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
    encode(&upright(bytes, longest_side)?, quality)
}

/// The picture as it is to be looked at, its longer side at most `longest_side` pixels.
pub(crate) fn upright(bytes: &[u8], longest_side: u32) -> Result<RgbImage, PhotoError> {
    let kind = structure::whole_kind(bytes)?;
    let longest_side = longest_side.max(1);
    let stored = structure::pixel_size(bytes, kind)?.unwrap_or((1, 1));
    let picture = pixels::decode(bytes, kind, longest_side)?;
    let small = shrink(picture, fitted(stored, longest_side));
    Ok(on_white(ExifFields::of(bytes).orientation.apply(small)))
}

pub(crate) fn encode(picture: &RgbImage, quality: u8) -> Result<Vec<u8>, PhotoError> {
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, quality.clamp(1, 100))
        .encode_image(picture)
        .map_err(|error| PhotoError::Encode(error.to_string()))?;
    Ok(jpeg)
}

/// Width and height of the small picture, in the shape of the stored one; never larger than it.
fn fitted((width, height): (u32, u32), longest_side: u32) -> (u32, u32) {
    let longer = u64::from(width.max(height).max(1));
    let wanted = u64::from(longest_side).min(longer);
    let share = |side: u32| u32::try_from((u64::from(side) * wanted + longer / 2) / longer).unwrap_or(side);
    (share(width).max(1), share(height).max(1))
}

/// First a quick box average to twice the size, then a smooth filter: fast for large pictures, no stair-steps.
fn shrink(picture: DynamicImage, (width, height): (u32, u32)) -> DynamicImage {
    if (picture.width(), picture.height()) == (width, height) {
        return picture;
    }
    let (twice_wide, twice_high) = (width.saturating_mul(2), height.saturating_mul(2));
    let picture = if picture.width() > twice_wide && picture.height() > twice_high {
        picture.thumbnail_exact(twice_wide, twice_high)
    } else {
        picture
    };
    picture.resize_exact(width, height, FilterType::Triangle)
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn sample() -> Vec<u8> {
        encode(&RgbImage::from_fn(40, 24, |x, y| Rgb([x as u8 * 6, y as u8 * 9, 90])), 85).unwrap()
    }

    #[test]
    fn keeps_shape_and_never_enlarges() {
        assert_eq!(fitted((9000, 6700), 1024), (1024, 762));
        assert_eq!(fitted((30, 4000), 400), (3, 400));
        assert_eq!(fitted((1, 60_000), 400), (1, 400));
        assert_eq!(fitted((80, 60), 400), (80, 60));
    }

    #[test]
    fn extreme_wishes_are_clamped() {
        for (side, quality) in [(0, 0), (1, 255), (u32::MAX, 101)] {
            assert!(for_report(&sample(), side, quality).is_ok(), "{side} {quality}");
        }
    }

    proptest! {
        #[test]
        fn damaged_bytes_never_panic(changes in prop::collection::vec((0_usize..900, any::<u8>()), 1..8)) {
            let mut bytes = sample();
            for (at, value) in changes {
                let at = at % bytes.len();
                bytes[at] = value;
            }
            let _ = preview(&bytes, 16);
        }

        #[test]
        fn bytes_behind_a_known_start_never_panic(
            start in prop::sample::select(vec![
                &b"\xFF\xD8\xFF"[..], b"\x89PNG\r\n\x1a\n", b"RIFF\x10\0\0\0WEBP", b"\0\0\0\x10ftypheic\0\0\0\0",
            ]),
            rest in prop::collection::vec(any::<u8>(), 0..300),
        ) {
            let bytes = [start, &rest].concat();
            let _ = preview(&bytes, 16);
            let _ = crate::inspect(&bytes, chrono::DateTime::UNIX_EPOCH);
        }
    }
}
