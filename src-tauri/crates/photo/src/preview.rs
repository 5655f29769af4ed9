//! Small upright JPEGs without any metadata, for the screen and for the report.

use crate::exif_fields::ExifFields;
use crate::{PhotoError, pixels, structure};
use image::RgbImage;
use image::codecs::jpeg::JpegEncoder;

/// JPEG quality of previews; enough to judge sharpness on a phone's screen.
pub const PREVIEW_QUALITY: u8 = 80;

/// Makes an upright JPEG for the screen, its longer side at most `longest_side` pixels (never enlarged).
///
/// The result is encoded anew and carries a JFIF header and nothing else: no EXIF, no position, no colour
/// profile, no embedded thumbnail.
///
/// # Errors
/// As [`crate::inspect`]; [`PhotoError::NoPreview`] for HEIC, pictures beyond the limits, rare forms and those that were cut off
/// before any pixel; [`PhotoError::Damaged`].
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

/// The picture as it is to be looked at, its longer side at most `longest_side` pixels. Of one that was cut off, what is there.
pub(crate) fn upright(bytes: &[u8], longest_side: u32) -> Result<RgbImage, PhotoError> {
    let kind = structure::kind(bytes)?;
    let drawn = structure::pixel_size(bytes, kind).and_then(|stored| {
        pixels::fitted(bytes, kind, pixels::shape(stored.unwrap_or((1, 1)), longest_side))
    });
    let picture = drawn.map_err(|error| structure::cut_or(error, bytes, kind))?;
    Ok(ExifFields::of(bytes).orientation.apply(picture.into()).into_rgb8())
}

pub(crate) fn encode(picture: &RgbImage, quality: u8) -> Result<Vec<u8>, PhotoError> {
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, quality.clamp(1, 100))
        .encode_image(picture)
        .map_err(|error| PhotoError::Encode(error.to_string()))?;
    Ok(jpeg)
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::Rgb;
    use pixels::shape;
    use proptest::prelude::*;

    fn sample() -> Vec<u8> {
        encode(&RgbImage::from_fn(40, 24, |x, y| Rgb([x as u8 * 6, y as u8 * 9, 90])), 85).unwrap()
    }

    #[test]
    fn keeps_shape_and_never_enlarges() {
        assert_eq!(shape((9000, 6700), 1024), (1024, 762));
        assert_eq!(shape((30, 4000), 400), (3, 400));
        assert_eq!(shape((1, 60_000), 400), (1, 400));
        assert_eq!(shape((80, 60), 400), (80, 60));
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
