//! Letters of a font as paths.

use tiny_skia::{Path, PathBuilder};
use ttf_parser::{Face, GlyphId, OutlineBuilder};

/// A font to letter with.
pub(super) struct Letters<'a> {
    face: Face<'a>,
}

impl<'a> Letters<'a> {
    /// `None` for what is no font.
    pub fn of(font: &'a [u8]) -> Option<Letters<'a>> {
        let face = Face::parse(font, 0).ok()?;
        (face.units_per_em() > 0).then_some(Letters { face })
    }

    fn unit(&self) -> f32 {
        1.0 / f32::from(self.face.units_per_em())
    }

    /// A letter that the font lacks is shown as the font's own sign for that.
    fn glyph(&self, letter: char) -> GlyphId {
        self.face.glyph_index(letter).unwrap_or(GlyphId(0))
    }

    fn advance(&self, glyph: GlyphId) -> f32 {
        f32::from(self.face.glyph_hor_advance(glyph).unwrap_or_default()) * self.unit()
    }

    /// Width of a line, in ems.
    pub fn ems(&self, text: &str) -> f32 {
        text.chars().map(|letter| self.advance(self.glyph(letter))).sum()
    }

    /// A line whose em box has its upper left corner at a place; `None` for one without ink.
    pub fn line(&self, text: &str, x: f32, y: f32, em: f32) -> Option<Path> {
        let ascent = f32::from(self.face.ascender());
        let descent = f32::from(self.face.descender());
        // The em box is laid in the middle of what the font's letters take up.
        let baseline = y + em * (0.5 + (ascent + descent) * self.unit() / 2.0);
        let mut pen = Pen { path: PathBuilder::new(), x, y: baseline, scale: em * self.unit() };
        for letter in text.chars() {
            let glyph = self.glyph(letter);
            let _ = self.face.outline_glyph(glyph, &mut pen);
            pen.x += self.advance(glyph) * em;
        }
        pen.path.finish()
    }
}

/// Draws a font's outlines, whose y goes up, into a picture, whose y goes down.
struct Pen {
    path: PathBuilder,
    x: f32,
    y: f32,
    scale: f32,
}

impl Pen {
    fn at(&self, x: f32, y: f32) -> (f32, f32) {
        (self.x + x * self.scale, self.y - y * self.scale)
    }
}

impl OutlineBuilder for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        let (x, y) = self.at(x, y);
        self.path.move_to(x, y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        let (x, y) = self.at(x, y);
        self.path.line_to(x, y);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let ((x1, y1), (x, y)) = (self.at(x1, y1), self.at(x, y));
        self.path.quad_to(x1, y1, x, y);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let ((x1, y1), (x2, y2), (x, y)) = (self.at(x1, y1), self.at(x2, y2), self.at(x, y));
        self.path.cubic_to(x1, y1, x2, y2, x, y);
    }

    fn close(&mut self) {
        self.path.close();
    }
}
