//! Flat artwork that is then wrapped on a solid: labels, dials, papers. Colours are linear light.

use crate::vector::{V3, v};
use ab_glyph::{Font, FontRef, PxScale, ScaleFont, point};

const REGULAR: &[u8] = include_bytes!("../../report/fonts/DejaVuSans.ttf");
const BOLD: &[u8] = include_bytes!("../../report/fonts/DejaVuSans-Bold.ttf");

/// How a line of text is set.
#[derive(Debug, Clone, Copy)]
pub struct Ink {
    pub size: f32,
    pub colour: V3,
    pub bold: bool,
    /// 0 starts at x, 0.5 is centred on it, 1 ends there.
    pub anchor: f32,
}

impl Ink {
    pub fn new(size: f32, colour: V3) -> Self {
        Self { size, colour, bold: false, anchor: 0.0 }
    }
    pub fn bold(self) -> Self {
        Self { bold: true, ..self }
    }
    pub fn centred(self) -> Self {
        Self { anchor: 0.5, ..self }
    }
    pub fn right(self) -> Self {
        Self { anchor: 1.0, ..self }
    }
}

/// A picture with coverage; places and sizes in its own pixels, y downwards.
#[derive(Debug, Clone)]
pub struct Canvas {
    width: usize,
    height: usize,
    dots: Vec<(V3, f32)>,
}

impl Canvas {
    pub fn clear(width: usize, height: usize) -> Self {
        Self { width, height, dots: vec![(V3::default(), 0.0); width * height] }
    }
    pub fn filled(width: usize, height: usize, colour: V3) -> Self {
        Self { width, height, dots: vec![(colour, 1.0); width * height] }
    }
    pub fn size(&self) -> (f32, f32) {
        (self.width as f32, self.height as f32)
    }

    /// Paints everywhere `distance` is negative, with a soft edge one pixel wide.
    pub fn fill(&mut self, area: (f32, f32, f32, f32), colour: V3, distance: impl Fn(f32, f32) -> f32) {
        let (left, top, right, bottom) = area;
        for y in bounded(top, bottom, self.height) {
            for x in bounded(left, right, self.width) {
                let cover = (0.5 - distance(x as f32 + 0.5, y as f32 + 0.5)).clamp(0.0, 1.0);
                self.blend(x, y, colour, cover);
            }
        }
    }
    pub fn rect(&mut self, x: f32, y: f32, w: f32, h: f32, colour: V3) {
        self.rounded(x, y, w, h, 0.0, colour);
    }
    pub fn rounded(&mut self, x: f32, y: f32, w: f32, h: f32, round: f32, colour: V3) {
        let (cx, cy) = (x + w / 2.0, y + h / 2.0);
        self.fill((x - 1.0, y - 1.0, x + w + 1.0, y + h + 1.0), colour, |px, py| {
            let (dx, dy) = ((px - cx).abs() - w / 2.0 + round, (py - cy).abs() - h / 2.0 + round);
            dx.max(0.0).hypot(dy.max(0.0)) + dx.max(dy).min(0.0) - round
        });
    }
    pub fn disc(&mut self, cx: f32, cy: f32, radius: f32, colour: V3) {
        let reach = radius + 1.0;
        let area = (cx - reach, cy - reach, cx + reach, cy + reach);
        self.fill(area, colour, |x, y| (x - cx).hypot(y - cy) - radius);
    }
    pub fn circle(&mut self, cx: f32, cy: f32, radius: f32, thick: f32, colour: V3) {
        let reach = radius + thick + 1.0;
        let area = (cx - reach, cy - reach, cx + reach, cy + reach);
        self.fill(area, colour, |x, y| ((x - cx).hypot(y - cy) - radius).abs() - thick / 2.0);
    }
    pub fn line(&mut self, from: (f32, f32), to: (f32, f32), thick: f32, colour: V3) {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let reach = thick + 1.0;
        let area = (
            from.0.min(to.0) - reach,
            from.1.min(to.1) - reach,
            from.0.max(to.0) + reach,
            from.1.max(to.1) + reach,
        );
        self.fill(area, colour, |x, y| {
            let share = ((x - from.0) * dx + (y - from.1) * dy) / (dx * dx + dy * dy).max(1e-6);
            let share = share.clamp(0.0, 1.0);
            (x - from.0 - dx * share).hypot(y - from.1 - dy * share) - thick / 2.0
        });
    }

    /// Sets one line of text, its baseline at `y`. Returns the width in pixels.
    pub fn text(&mut self, x: f32, y: f32, words: &str, ink: Ink) -> f32 {
        let Ok(font) = FontRef::try_from_slice(if ink.bold { BOLD } else { REGULAR }) else { return 0.0 };
        let scale = PxScale::from(ink.size);
        let set = font.as_scaled(scale);
        let width: f32 = words.chars().map(|letter| set.h_advance(set.glyph_id(letter))).sum();
        let mut pen = x - width * ink.anchor;
        for letter in words.chars() {
            let id = set.glyph_id(letter);
            if let Some(outline) = font.outline_glyph(id.with_scale_and_position(scale, point(pen, y))) {
                let bounds = outline.px_bounds();
                outline.draw(|dx, dy, cover| {
                    let (gx, gy) = (bounds.min.x + dx as f32, bounds.min.y + dy as f32);
                    if gx >= 0.0 && gy >= 0.0 {
                        self.blend(gx as usize, gy as usize, ink.colour, cover);
                    }
                });
            }
            pen += set.h_advance(id);
        }
        width
    }

    /// Colour and coverage at a place from 0 to 1, averaged over `spread` pixels.
    pub fn sample(&self, u: f32, w: f32, spread: f32) -> (V3, f32) {
        let (x, y) = (u * self.width as f32 - 0.5, w * self.height as f32 - 0.5);
        let taps = if spread > 3.0 {
            4
        } else if spread > 1.2 {
            3
        } else {
            1
        };
        let (mut colour, mut cover) = (V3::default(), 0.0);
        for row in 0..taps {
            for column in 0..taps {
                let shift = |tap: i32| ((tap as f32 + 0.5) / taps as f32 - 0.5) * spread.min(8.0);
                let (dot, part) = self.between(x + shift(column), y + shift(row));
                colour = colour + dot * part;
                cover += part;
            }
        }
        (colour * (1.0 / cover.max(1e-6)), cover / (taps * taps) as f32)
    }

    fn between(&self, x: f32, y: f32) -> (V3, f32) {
        let (left, top) = (x.floor(), y.floor());
        let (fx, fy) = (x - left, y - top);
        let parts = [
            (0.0, 0.0, (1.0 - fx) * (1.0 - fy)),
            (1.0, 0.0, fx * (1.0 - fy)),
            (0.0, 1.0, (1.0 - fx) * fy),
            (1.0, 1.0, fx * fy),
        ];
        let (mut colour, mut cover) = (V3::default(), 0.0);
        for (dx, dy, weight) in parts {
            let (dot, part) = self.dot(left + dx, top + dy);
            colour = colour + dot * (part * weight);
            cover += part * weight;
        }
        (colour * (1.0 / cover.max(1e-6)), cover)
    }

    fn dot(&self, x: f32, y: f32) -> (V3, f32) {
        let x = x.clamp(0.0, self.width as f32 - 1.0) as usize;
        let y = y.clamp(0.0, self.height as f32 - 1.0) as usize;
        self.dots.get(y * self.width + x).copied().unwrap_or((v(0.0, 0.0, 0.0), 0.0))
    }

    fn blend(&mut self, x: usize, y: usize, colour: V3, cover: f32) {
        if x >= self.width || cover <= 0.0 {
            return;
        }
        if let Some((under, under_cover)) = self.dots.get_mut(y * self.width + x) {
            let total = cover + *under_cover * (1.0 - cover);
            *under = under.mix(colour, cover / total.max(1e-6));
            *under_cover = total;
        }
    }
}

fn bounded(from: f32, to: f32, limit: usize) -> std::ops::Range<usize> {
    let low = (from.max(0.0) as usize).min(limit);
    low..(to.max(0.0).ceil() as usize).clamp(low, limit)
}
