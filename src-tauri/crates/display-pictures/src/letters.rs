//! Rows in a typeface, smooth or in coarse dots as graphic displays show it.

use crate::chance::Chance;
use crate::place::{Glyph, Place};
use crate::raster::Cover;
use crate::value::Sign;
use ab_glyph::{Font, FontRef, PxScale, ScaleFont, point};

macro_rules! fonts {
    ($($path:literal),* $(,)?) => { &[$(include_bytes!(concat!("../fonts/", $path, ".ttf"))),*] };
}
/// Typefaces to learn from.
const LEARNED: &[&[u8]] = fonts![
    "learned/cabin-bold",
    "learned/hack-bold",
    "learned/hack-regular",
    "learned/inconsolata",
    "learned/lato-bold",
    "learned/lato-light",
    "learned/lato-regular",
    "learned/leaguemono-bold",
    "learned/liberationmono-bold",
    "learned/liberationsans-bold",
    "learned/liberationsans-regular",
    "learned/liberationsansnarrow-bold",
    "learned/liberationserif-bold",
    "learned/play-bold",
    "learned/play-regular",
    "learned/quicksand-bold",
    "learned/quicksand-medium",
    "learned/robotocondensed-bold",
    "learned/robotocondensed-regular",
];
/// Typefaces that are never learned from.
const HELD_BACK: &[&[u8]] = fonts![
    "held-back/3270-regular",
    "held-back/3270semicondensed-regular",
    "held-back/b612-bold",
    "held-back/b612mono-regular",
    "held-back/comfortaa-bold",
    "held-back/jetbrainsmono-extrabold",
    "held-back/jetbrainsmono-light",
];
/// Seven-segment typefaces by others, never learned from.
const HELD_BACK_SEGMENTS: &[&[u8]] = fonts![
    "held-back/segments-classic-bold",
    "held-back/segments-classic-bolditalic",
    "held-back/segments-classic-italic",
    "held-back/segments-classic-light",
    "held-back/segments-classic-regular",
    "held-back/segments-classicmini-bold",
    "held-back/segments-modern-bold",
    "held-back/segments-modern-italic",
    "held-back/segments-modern-light",
    "held-back/segments-modern-regular",
    "held-back/segments-modernmini-italic",
];

/// One make of letters.
#[derive(Debug, Clone)]
pub struct Typeface {
    font: &'static [u8],
    /// Dots a digit height has on a graphic display; none for smooth letters.
    coarse: Option<f32>,
    /// Width beside the typeface's own.
    stretch: f32,
    /// Added between letters, in digit heights.
    space: f32,
    /// What is not lit can be seen, as on displays of fixed strokes.
    fixed: bool,
}

impl Typeface {
    /// One to learn from.
    #[must_use]
    pub fn learned(chance: &mut Chance) -> Self {
        let font = chance.pick(LEARNED, &[]);
        Self::with(font, chance, false)
    }
    /// One that is never learned from: seven strokes, or letters.
    #[must_use]
    pub fn held_back(chance: &mut Chance, segments: bool) -> Self {
        let font = chance.pick(if segments { HELD_BACK_SEGMENTS } else { HELD_BACK }, &[]);
        Self::with(font, chance, segments)
    }
    /// One for printed words.
    #[must_use]
    pub fn printed(chance: &mut Chance) -> Self {
        let font = chance.pick(LEARNED, &[]);
        Self { font, coarse: None, stretch: chance.between(0.8, 1.15), space: 0.0, fixed: false }
    }
    fn with(font: &'static [u8], chance: &mut Chance, fixed: bool) -> Self {
        let coarse = (!fixed && chance.yes(0.5)).then(|| chance.between(8.0, 30.0).round());
        let space = if chance.yes(0.7) { 0.0 } else { chance.between(-0.01, 0.08) };
        Self { font, coarse, stretch: chance.between(0.8, 1.2), space, fixed }
    }

    /// Whether its strokes are fixed ones.
    #[must_use]
    pub fn is_fixed(&self) -> bool {
        self.fixed
    }

    /// Draws one sign at the pen and moves it.
    pub fn sign(
        &self,
        lit: &mut Cover,
        ghost: &mut Cover,
        place: &Place,
        pen: &mut f32,
        sign: Sign,
    ) -> Option<Glyph> {
        let letter = match sign {
            Sign::Letter(letter) => letter,
            Sign::Point => '.',
            Sign::Blank => ' ',
        };
        let shown = if letter == ' ' { '8' } else { letter };
        let mut glyph = self.letter(lit, place, *pen, shown, letter == ' ');
        if self.fixed && letter != '.' && letter != '-' {
            self.letter(ghost, place, *pen, '8', false);
        }
        *pen += self.advance(shown) + self.space;
        if letter == ' ' {
            return None;
        }
        if let Some(glyph) = &mut glyph {
            glyph.letter = letter;
        }
        glyph
    }

    /// Sets words that no reader has to read; returns their width in digit heights.
    pub fn words(&self, cover: &mut Cover, place: &Place, words: &str) -> f32 {
        let mut pen = 0.0;
        for letter in words.chars() {
            self.letter(cover, place, pen, letter, false);
            pen += self.advance(letter);
        }
        pen
    }

    fn advance(&self, letter: char) -> f32 {
        let Ok(font) = FontRef::try_from_slice(self.font) else { return 0.6 };
        let size = size_of_one_height(&font);
        let scaled = font.as_scaled(PxScale { x: size * self.stretch, y: size });
        scaled.h_advance(scaled.glyph_id(letter))
    }

    fn letter(
        &self,
        cover: &mut Cover,
        place: &Place,
        pen: f32,
        letter: char,
        measure: bool,
    ) -> Option<Glyph> {
        let font = FontRef::try_from_slice(self.font).ok()?;
        let scale = self.coarse.unwrap_or(place.scale);
        let size = size_of_one_height(&font) * scale;
        let id = font.glyph_id(letter);
        let set = PxScale { x: size * self.stretch, y: size };
        let shift = if self.coarse.is_some() { (pen * scale).round() } else { pen * scale };
        let outline = font.outline_glyph(id.with_scale_and_position(set, point(shift, scale)))?;
        let bounds = outline.px_bounds();
        let enlarge = place.scale / scale;
        let square = enlarge * if enlarge > 4.0 { 0.92 } else { 1.0 };
        if !measure {
            outline.draw(|dx, dy, share| {
                let (gx, gy) = (bounds.min.x + dx as f32, bounds.min.y + dy as f32);
                if self.coarse.is_some() {
                    if share >= 0.45 {
                        let (x, y) = (place.left + gx * enlarge, place.top + gy * enlarge);
                        cover.rectangle(x, y, square, square, 0.0, 1.0);
                    }
                } else {
                    cover.raise((place.left + gx) as i32, (place.top + gy) as i32, share);
                }
            });
        }
        let ink = [bounds.min.x / scale, bounds.min.y / scale, bounds.max.x / scale, bounds.max.y / scale];
        let probes = (0..15)
            .map(|at| {
                let (fx, fy) = (((at % 3) as f32 + 0.5) / 3.0, ((at / 3) as f32 + 0.5) / 5.0);
                (ink[0] + (ink[2] - ink[0]) * fx, ink[1] + (ink[3] - ink[1]) * fy)
            })
            .collect();
        Some(Glyph { letter, ink, probes })
    }
}

/// The size at which a zero is one unit high.
fn size_of_one_height(font: &FontRef<'_>) -> f32 {
    let trial = 1000.0;
    let id = font.glyph_id('8');
    let high = font.outline_glyph(id.with_scale(trial)).map_or(700.0, |outline| outline.px_bounds().height());
    trial / high.max(1.0)
}
