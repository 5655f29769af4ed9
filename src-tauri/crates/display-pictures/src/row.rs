//! One row of signs: segments, dots or a typeface, and where each sign came to stand.

use crate::chance::Chance;
use crate::dots::Dots;
use crate::letters::Typeface;
use crate::place::{Glyph, Place};
use crate::raster::Cover;
use crate::segments::Segments;
use crate::value::{Said, Sign, letter_of};

/// What draws the signs.
#[derive(Debug, Clone)]
pub enum Face {
    /// Seven strokes.
    Segments(Segments),
    /// A matrix of dots.
    Dots(Dots),
    /// A typeface, whole or in coarse dots.
    Letters(Typeface),
}

/// What was drawn.
#[derive(Debug, Clone, Default)]
pub struct Drawn {
    /// Signs with the reader's letters, from the left.
    pub glyphs: Vec<Glyph>,
    /// Left and right edge of the cells from the first to the last sign.
    pub field: (f32, f32),
    /// Where the pen stopped.
    pub end: f32,
}

impl Face {
    /// A make by chance; `held_back` from those that are never learned from.
    #[must_use]
    pub fn invent(chance: &mut Chance, held_back: bool) -> Self {
        let kind = chance.share();
        if held_back {
            // Seven-segment typefaces of other people's making count as typefaces here.
            return match kind {
                k if k < 0.42 => Self::Segments(Segments::invent(chance, true)),
                k if k < 0.80 => Self::Letters(Typeface::held_back(chance, true)),
                k if k < 0.90 => Self::Letters(Typeface::held_back(chance, false)),
                _ => Self::Dots(Dots::invent(chance, true)),
            };
        }
        match kind {
            k if k < 0.70 => Self::Segments(Segments::invent(chance, false)),
            k if k < 0.88 => Self::Letters(Typeface::learned(chance)),
            _ => Self::Dots(Dots::invent(chance, false)),
        }
    }

    /// Whether units can be written as large as the digits: seven strokes have no such letters.
    #[must_use]
    pub fn has_letters(&self) -> bool {
        match self {
            Self::Segments(_) => false,
            Self::Dots(_) => true,
            Self::Letters(face) => !face.is_fixed(),
        }
    }

    /// Draws the row; `ghost` receives the strokes that are not lit.
    pub fn draw(&self, lit: &mut Cover, ghost: &mut Cover, place: &Place, said: &Said) -> Drawn {
        let mut drawn = Drawn { field: (f32::MAX, 0.0), ..Drawn::default() };
        let mut pen = 0.0_f32;
        let mut first = true;
        for (at, sign) in said.signs.iter().enumerate() {
            let last = at + 1 == said.signs.len();
            let before = pen;
            let glyph = match (self, sign) {
                (Self::Segments(face), Sign::Point) => {
                    if first {
                        pen += face.thick.1;
                    }
                    let glyph = face.dot(lit, place, pen);
                    pen += if last { face.space + face.point_space } else { face.point_space };
                    Some(glyph)
                }
                (Self::Segments(face), sign) => {
                    let gap = if first { 0.0 } else { face.space };
                    let letter = if let Sign::Letter(letter) = sign { *letter } else { ' ' };
                    let (advance, glyph) = face.cell(lit, place, pen + gap, letter, first);
                    face.cell(ghost, place, pen + gap, '8', false);
                    face.dot(ghost, place, pen + gap + advance);
                    pen += gap + advance;
                    glyph
                }
                (Self::Dots(face), sign) => face.sign(lit, ghost, place, &mut pen, *sign),
                (Self::Letters(face), sign) => face.sign(lit, ghost, place, &mut pen, *sign),
            };
            first = first && *sign == Sign::Point;
            if let (Some(glyph), Some(letter)) = (glyph, letter_of(*sign, said)) {
                drawn.field.0 = drawn.field.0.min(before.min(glyph.ink[0]));
                drawn.field.1 = drawn.field.1.max(pen.max(glyph.ink[2]));
                drawn.glyphs.push(Glyph { letter, ..glyph });
            }
        }
        drawn.end = pen;
        drawn
    }
}
