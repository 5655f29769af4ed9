//! Marks on a picture: arrows, ellipses and short texts, drawn into a new JPEG. The picture that was kept is never drawn on.
//!
//! Sizes follow the picture's shorter side, so that a mark looks alike in a small copy and in a large one. Each mark has a core
//! and a casing around it, so far apart that one of the two stands out at 3:1 on any ground (WCAG 2.2, 1.4.11): two colors at
//! 9:1 or more leave no ground that is within 3:1 of both. The screens draw the same geometry.

mod draw;
mod lettering;

use crate::preview::{encode, upright};
use crate::redact::{Area, WHOLE, cover};
use crate::{PhotoError, WhyNoPreview};
use draw::Sheet;
use lettering::Letters;

/// Most marks on a picture.
pub const MOST_MARKS: usize = 40;
/// Most characters of a mark's text: what can be read in a line across the picture.
pub const MOST_LETTERS: usize = 60;

/// A place on the upright picture, in thousandths of its width and height, from its upper left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// From the left side.
    pub x: u32,
    /// From the upper side.
    pub y: u32,
}

/// What is drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MarkShape {
    /// An arrow that points at something.
    Arrow {
        /// Where it begins.
        from: Spot,
        /// What it points at.
        tip: Spot,
    },
    /// The ellipse in a rectangle.
    Ellipse(Area),
    /// A line of text on a plate.
    Text {
        /// Upper left corner of the plate; moved as far as the whole plate needs to lie on the picture.
        at: Spot,
        /// At most [`MOST_LETTERS`] characters, none of them a control character.
        text: String,
    },
}

/// Color of a mark, with its casing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkTone {
    /// Deep blue, cased in white.
    Cold,
    /// Yellow, cased in ink.
    Lamp,
    /// Ink, cased in white.
    Ink,
}

/// A mark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// What is drawn.
    pub shape: MarkShape,
    /// In which color.
    pub tone: MarkTone,
}

/// Red, green and blue.
pub(crate) type Rgb8 = [u8; 3];

impl MarkTone {
    /// Every tone.
    pub const ALL: [Self; 3] = [Self::Cold, Self::Lamp, Self::Ink];

    /// Core and casing as red, green and blue (sRGB). They are those of the screens' tokens.
    #[must_use]
    pub const fn colors(self) -> (Rgb8, Rgb8) {
        match self {
            Self::Cold => ([0x0b, 0x3a, 0x75], [0xff, 0xff, 0xff]),
            Self::Lamp => ([0xff, 0xce, 0x4a], [0x15, 0x12, 0x0d]),
            Self::Ink => ([0x15, 0x12, 0x0d], [0xff, 0xff, 0xff]),
        }
    }
}

impl Spot {
    fn is_inside(self) -> bool {
        self.x <= WHOLE && self.y <= WHOLE
    }
}

impl Mark {
    /// Lies on the picture, and something of it can be seen.
    #[must_use]
    pub fn is_inside(&self) -> bool {
        match &self.shape {
            MarkShape::Arrow { from, tip } => from.is_inside() && tip.is_inside() && from != tip,
            MarkShape::Ellipse(area) => area.is_inside(),
            MarkShape::Text { at, text } => at.is_inside() && is_line(text),
        }
    }
}

/// A text that a mark may hold: something to read, in one line, not too long.
#[must_use]
pub fn is_line(text: &str) -> bool {
    !text.trim().is_empty() && text.chars().count() <= MOST_LETTERS && !text.chars().any(char::is_control)
}

/// An upright JPEG without metadata, its longer side at most `longest_side` pixels, with marks drawn in, and with areas black
/// that lie above them: no mark shows where something is covered. `font` is a TrueType font for the texts.
///
/// The same arguments give the same bytes.
///
/// # Errors
/// [`PhotoError::BadMark`] for a mark that isn't on the picture, too many of them, or a font that can't be read;
/// [`PhotoError::NoArea`] for an area outside it; as [`crate::preview`] otherwise.
pub fn marked(
    bytes: &[u8],
    longest_side: u32,
    quality: u8,
    marks: &[Mark],
    covered: &[Area],
    font: &[u8],
) -> Result<Vec<u8>, PhotoError> {
    if marks.len() > MOST_MARKS || !marks.iter().all(Mark::is_inside) {
        return Err(PhotoError::BadMark);
    }
    if !covered.iter().all(Area::is_inside) {
        return Err(PhotoError::NoArea);
    }
    let letters = Letters::of(font).ok_or(PhotoError::BadMark)?;
    let picture = upright(bytes, longest_side)?;
    let mut sheet = Sheet::of(&picture).ok_or(PhotoError::NoPreview(WhyNoPreview::TooLarge))?;
    for mark in marks {
        sheet.draw(mark, &letters);
    }
    let mut drawn = sheet.into_picture();
    covered.iter().try_for_each(|area| cover(&mut drawn, area))?;
    encode(&drawn, quality)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance and contrast as WCAG 2.2 defines them.
    fn luminance(color: Rgb8) -> f64 {
        let [red, green, blue] = color.map(|value| {
            let share = f64::from(value) / 255.0;
            if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        });
        0.2126 * red + 0.7152 * green + 0.0722 * blue
    }

    fn contrast(one: f64, other: f64) -> f64 {
        (one.max(other) + 0.05) / (one.min(other) + 0.05)
    }

    #[test]
    fn core_or_casing_stands_out_on_any_ground() {
        for tone in MarkTone::ALL {
            let (core, casing) = tone.colors();
            for ground in 0..=1000 {
                let ground = f64::from(ground) / 1000.0;
                let best = contrast(luminance(core), ground).max(contrast(luminance(casing), ground));
                assert!(best >= 3.0, "{tone:?} on {ground}: {best}");
            }
            // The text on its plate.
            assert!(contrast(luminance(core), luminance(casing)) >= 7.0, "{tone:?}");
        }
    }

    #[test]
    fn marks_off_the_picture_and_texts_that_are_no_line_are_refused() {
        let inside = Spot { x: 10, y: 10 };
        let outside = Spot { x: 1001, y: 10 };
        let text = |text: &str| MarkShape::Text { at: inside, text: text.to_owned() };
        let bad = [
            MarkShape::Arrow { from: inside, tip: outside },
            MarkShape::Arrow { from: inside, tip: inside },
            MarkShape::Ellipse(Area { left: 500, top: 500, width: 501, height: 10 }),
            MarkShape::Text { at: outside, text: "here".into() },
            text("  "),
            text("two\nlines"),
            text(&"x".repeat(MOST_LETTERS + 1)),
        ];
        for shape in bad {
            assert!(!Mark { shape: shape.clone(), tone: MarkTone::Ink }.is_inside(), "{shape:?}");
        }
        assert!(Mark { shape: text(&"ñ".repeat(MOST_LETTERS)), tone: MarkTone::Ink }.is_inside());
    }
}
