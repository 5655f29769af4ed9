//! Covering parts of a picture: a new JPEG in which what must not leave the shop isn't there any more.

use crate::preview::{encode, upright};
use crate::{PhotoError, WhyNoPreview};
use image::{Rgb, RgbImage};

/// Longest side of a covered picture, pixels: a number plate a car's length away is still sharp in it.
pub const REDACTED_SIDE: u32 = 2400;
/// JPEG quality of a covered picture.
const QUALITY: u8 = 85;
/// Full side of a picture in the unit of [`Area`].
pub const WHOLE: u32 = 1000;

/// A rectangle of the upright picture, in thousandths of its width and height, from its upper left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Area {
    /// From the left side.
    pub left: u32,
    /// From the upper side.
    pub top: u32,
    /// Width, at least 1.
    pub width: u32,
    /// Height, at least 1.
    pub height: u32,
}

impl Area {
    /// Lies inside the picture and covers something.
    #[must_use]
    pub fn is_inside(&self) -> bool {
        let fits =
            |start: u32, length: u32| length > 0 && start.checked_add(length).is_some_and(|end| end <= WHOLE);
        fits(self.left, self.width) && fits(self.top, self.height)
    }
}

/// An upright JPEG without metadata in which the areas are black.
///
/// The pixels are painted over before the picture is encoded, so that nothing below an area is left in the file;
/// blurring would leave enough of a plate to be guessed.
///
/// # Errors
/// [`PhotoError::NoArea`] for no area or one that isn't inside the picture; as [`crate::preview`] otherwise: a
/// picture that can't be decoded here can't be covered.
pub fn redact(bytes: &[u8], areas: &[Area]) -> Result<Vec<u8>, PhotoError> {
    if areas.is_empty() || !areas.iter().all(Area::is_inside) {
        return Err(PhotoError::NoArea);
    }
    let mut picture = upright(bytes, REDACTED_SIDE)?;
    areas.iter().try_for_each(|area| cover(&mut picture, area))?;
    encode(&picture, QUALITY)
}

/// Every pixel that the area touches, however little.
pub(crate) fn cover(picture: &mut RgbImage, area: &Area) -> Result<(), PhotoError> {
    let (across, along) =
        (span(area.left, area.width, picture.width()), span(area.top, area.height, picture.height()));
    let (across, along) = across.zip(along).ok_or(PhotoError::NoPreview(WhyNoPreview::TooLarge))?;
    for y in along {
        for x in across.clone() {
            if let Some(pixel) = picture.get_pixel_mut_checked(x, y) {
                *pixel = Rgb([0, 0, 0]);
            }
        }
    }
    Ok(())
}

fn span(start: u32, length: u32, side: u32) -> Option<std::ops::Range<u32>> {
    let first = u64::from(start) * u64::from(side) / u64::from(WHOLE);
    let end = (u64::from(start) + u64::from(length)) * u64::from(side);
    let range = u32::try_from(first).ok()?..u32::try_from(end.div_ceil(u64::from(WHOLE))).ok()?;
    Some(range)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn white(width: u32, height: u32) -> Vec<u8> {
        encode(&RgbImage::from_pixel(width, height, Rgb([255, 255, 255])), 95).unwrap()
    }

    fn shown(bytes: &[u8]) -> RgbImage {
        image::load_from_memory(bytes).unwrap().into_rgb8()
    }

    #[test]
    fn covers_what_it_is_told_and_leaves_the_rest() {
        let area = Area { left: 250, top: 500, width: 250, height: 250 };
        let covered = shown(&redact(&white(160, 80), &[area]).unwrap());
        assert!(covered.get_pixel(60, 50).0.iter().all(|value| *value < 12));
        assert!(covered.get_pixel(16, 16).0.iter().all(|value| *value > 240));
        assert!(covered.get_pixel(120, 72).0.iter().all(|value| *value > 240));
    }

    #[test]
    fn refuses_nothing_to_cover_and_areas_outside() {
        let outside = Area { left: 900, top: 0, width: 101, height: 10 };
        let empty = Area { left: 0, top: 0, width: 0, height: 10 };
        for areas in [vec![], vec![outside], vec![empty]] {
            assert!(matches!(redact(&white(16, 16), &areas), Err(PhotoError::NoArea)), "{areas:?}");
        }
    }

    proptest! {
        #[test]
        fn nothing_bright_is_left_inside(
            left in 0_u32..900, top in 0_u32..900, width in 1_u32..100, height in 1_u32..100,
        ) {
            let area = Area { left, top, width, height };
            let covered = shown(&redact(&white(64, 48), &[area]).unwrap());
            let (x, y) = ((left + width / 2) * 64 / 1000, (top + height / 2) * 48 / 1000);
            prop_assert!(covered.get_pixel(x.min(63), y.min(47)).0.iter().all(|value| *value < 128));
        }
    }
}
