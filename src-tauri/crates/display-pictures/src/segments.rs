//! Seven strokes a digit, in shapes of our own: pointed, butted, rounded, cut like a picture frame, or tapered.

use crate::chance::Chance;
use crate::place::{Glyph, Place};
use crate::raster::Cover;

/// How the ends of the strokes are cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ends {
    /// Both ends run out to a point.
    Pointed,
    /// The outer edge is longer, as the boards of a picture frame.
    Framed,
    /// Straight across.
    Butted,
    /// Half discs.
    Round,
    /// Thick in the middle, thin at the ends; never learned from.
    Tapered,
    /// Framed on the outside with strokes that lean against each other; never learned from.
    Notched,
}

/// One make of digit; lengths in digit heights.
#[derive(Debug, Clone)]
pub struct Segments {
    /// How strokes end.
    pub ends: Ends,
    /// Width of the strokes' middle lines.
    pub wide: f32,
    /// Thickness of lying and of standing strokes.
    pub thick: (f32, f32),
    /// Gap between strokes.
    pub gap: f32,
    /// Rounding of corners.
    pub round: f32,
    /// Sideways shift per unit of height.
    pub lean: f32,
    /// Free space between two cells.
    pub space: f32,
    /// More space where a point stands.
    pub point_space: f32,
    /// Radius of the point and how far it stands above the bottom.
    pub point: (f32, f32),
    /// A square point rather than a round one.
    pub point_square: bool,
    /// 6 and 9 without their tails, 7 with a hook.
    pub bare_six: bool,
    /// 7 with its upper left stroke.
    pub hooked_seven: bool,
    /// Minus of its own, shorter than a stroke: width as a share of the cell.
    pub minus: Option<f32>,
    /// A first 1 in a narrow cell.
    pub half_one: bool,
}

impl Segments {
    /// A make by chance. `held_back` draws from shapes and proportions that are never learned from.
    #[must_use]
    pub fn invent(chance: &mut Chance, held_back: bool) -> Self {
        let learned = [Ends::Pointed, Ends::Pointed, Ends::Framed, Ends::Framed, Ends::Butted, Ends::Round];
        let ends = if held_back {
            chance.pick(&[Ends::Tapered, Ends::Notched], Ends::Notched)
        } else {
            chance.pick(&learned, Ends::Pointed)
        };
        let thick = if chance.yes(0.2) { chance.between(0.05, 0.09) } else { chance.between(0.08, 0.19) };
        let gap = if chance.yes(0.3) { 0.0 } else { chance.between(0.0, 0.035) };
        Self {
            ends,
            wide: chance.between(0.36, 0.60),
            thick: (thick, thick * chance.between(0.8, 1.25)),
            gap,
            round: if chance.yes(0.4) { chance.between(0.0, 0.04).min(thick * 0.3) } else { 0.0 },
            lean: if chance.yes(0.3) { 0.0 } else { chance.between(0.02, 0.21) },
            space: chance.between(0.08, 0.30),
            point_space: if chance.yes(0.5) { 0.0 } else { chance.between(0.02, 0.16) },
            point: (chance.between(0.04, 0.088), chance.between(-0.03, 0.05)),
            point_square: chance.yes(0.35),
            bare_six: chance.yes(0.07),
            hooked_seven: chance.yes(0.12),
            minus: if chance.yes(0.5) { Some(chance.between(0.4, 1.0)) } else { None },
            half_one: chance.yes(0.35),
        }
    }

    /// Draws one cell from `x`; returns how far the pen moves.
    pub fn cell(
        &self,
        cover: &mut Cover,
        place: &Place,
        x: f32,
        letter: char,
        first: bool,
    ) -> (f32, Option<Glyph>) {
        let full = self.wide + self.thick.1;
        let half = self.half_one && first && letter == '1';
        let advance = if half { self.thick.1 * 1.3 } else { full };
        let start = if half { x - full + advance } else { x };
        let lit = self.lit(letter);
        if letter == '-'
            && let Some(share) = self.minus
        {
            let bar = full * share * 0.8;
            let from = x + (full - bar) / 2.0;
            let t = self.thick.0 / 2.0;
            let corners = [(from, 0.5 - t), (from + bar, 0.5 - t), (from + bar, 0.5 + t), (from, 0.5 + t)];
            self.shape(cover, place, &corners);
            let ink = [from + self.lean / 2.0, 0.5 - t, from + bar + self.lean / 2.0, 0.5 + t];
            let probes = vec![(from + bar / 2.0 + self.lean / 2.0, 0.5)];
            return (full, Some(Glyph { letter, ink, probes }));
        }
        for stroke in (0..7).filter(|stroke| lit & (1 << stroke) != 0) {
            self.shape(cover, place, &self.stroke(stroke, start));
        }
        let probes = (0..7)
            .filter(|stroke| letter != '-' || *stroke == 6)
            .map(|stroke| {
                let (fx, fy) = CENTERS.get(stroke).copied().unwrap_or((0.5, 0.5));
                (start + self.thick.1 / 2.0 + self.wide * fx + self.lean * (1.0 - fy), fy)
            })
            .collect();
        let left = if letter == '1' { start + full - self.thick.1 } else { start };
        let (top, bottom) = if letter == '-' { (0.4, 0.6) } else { (0.0, 1.0) };
        let ink = [left, top, start + full + self.lean, bottom];
        (advance, (lit != 0).then_some(Glyph { letter, ink, probes }))
    }

    /// The point that stands before `x`, the left edge of the next cell less the space.
    pub fn dot(&self, cover: &mut Cover, place: &Place, x: f32) -> Glyph {
        let (radius, up) = self.point;
        let (cx, cy) = (x + (self.space + self.point_space) * 0.5 + self.lean * up, 1.0 - radius - up);
        let (dx, dy) = place.dots(cx, cy);
        let r = radius * place.scale;
        if self.point_square {
            cover.rectangle(dx - r, dy - r, 2.0 * r, 2.0 * r, r * 0.15, 1.0);
        } else {
            cover.disc(dx, dy, r, 1.0);
        }
        let ink = [cx - radius, cy - radius, cx + radius, cy + radius];
        Glyph { letter: '.', ink, probes: vec![(cx, cy)] }
    }

    fn shape(&self, cover: &mut Cover, place: &Place, corners: &[(f32, f32)]) {
        let leaned: Vec<(f32, f32)> =
            corners.iter().map(|(x, y)| place.dots(x + self.lean * (1.0 - y), *y)).collect();
        let round = self.round * place.scale;
        let round = if self.ends == Ends::Round {
            self.thick.0.min(self.thick.1) * 0.42 * place.scale
        } else {
            round
        };
        cover.polygon(&shrunk(&leaned, round), round, 1.0);
    }

    /// Corners of one stroke, a to g, of a cell that starts at `x`.
    fn stroke(&self, stroke: usize, x: f32) -> Vec<(f32, f32)> {
        let (lying, standing) = (self.thick.0, self.thick.1);
        let (left, right) = (x + standing / 2.0, x + standing / 2.0 + self.wide);
        let (top, bottom) = (lying / 2.0, 1.0 - lying / 2.0);
        let ends = match stroke {
            0 => ((left, top), (right, top)),
            1 => ((right, top), (right, 0.5)),
            2 => ((right, 0.5), (right, bottom)),
            3 => ((left, bottom), (right, bottom)),
            4 => ((left, 0.5), (left, bottom)),
            5 => ((left, top), (left, 0.5)),
            _ => ((left, 0.5), (right, 0.5)),
        };
        let flat = matches!(stroke, 0 | 3 | 6);
        let half = if flat { lying } else { standing } / 2.0;
        // Which side is the outside: a and f, e, b, c have one, the middle stroke none.
        let outer = match stroke {
            0 => -1.0,
            3 => 1.0,
            4 | 5 => -1.0,
            1 | 2 => 1.0,
            _ => 0.0,
        };
        let along = if flat { (ends.0.0, ends.1.0) } else { (ends.0.1, ends.1.1) };
        let across = if flat { ends.0.1 } else { ends.0.0 };
        self.outline(along, across, half, outer)
            .into_iter()
            .map(|(a, c)| if flat { (a, c) } else { (c, a) })
            .collect()
    }

    fn outline(&self, (from, to): (f32, f32), across: f32, half: f32, outer: f32) -> Vec<(f32, f32)> {
        let (a, b) = (from + self.gap, to - self.gap);
        match self.ends {
            Ends::Pointed => hexagon(a, b, across, half, half),
            Ends::Tapered => hexagon(a - half * 0.2, b + half * 0.2, across, half, (b - a) * 0.33),
            Ends::Butted => {
                let (a, b) = (a + half * 0.9, b - half * 0.9);
                vec![(a, across - half), (b, across - half), (b, across + half), (a, across + half)]
            }
            Ends::Round => {
                let (a, b) = (a + half * 0.25, b - half * 0.25);
                vec![(a, across - half), (b, across - half), (b, across + half), (a, across + half)]
            }
            Ends::Framed | Ends::Notched if outer == 0.0 => hexagon(a, b, across, half, half),
            Ends::Framed => {
                let (out, inn) = (across + half * outer, across - half * outer);
                vec![(a - half, out), (b + half, out), (b - half, inn), (a + half, inn)]
            }
            Ends::Notched => {
                let (out, inn) = (across + half * outer, across - half * outer);
                vec![(a - half, out), (b + half * 0.2, out), (b - half * 0.8, inn), (a + half * 0.6, inn)]
            }
        }
    }

    /// Lit strokes, bit 0 = a … bit 6 = g.
    fn lit(&self, letter: char) -> u8 {
        match letter {
            '6' if self.bare_six => 0b111_1100,
            '9' if self.bare_six => 0b110_0111,
            '7' if self.hooked_seven => 0b010_0111,
            other => STROKES.iter().find(|(name, _)| *name == other).map_or(0, |(_, lit)| *lit),
        }
    }
}

fn hexagon(a: f32, b: f32, across: f32, half: f32, point: f32) -> Vec<(f32, f32)> {
    let (p, q) = (a + point, b - point);
    vec![
        (a, across),
        (p, across - half),
        (q, across - half),
        (b, across),
        (q, across + half),
        (p, across + half),
    ]
}

/// Moves every corner toward the middle by about `by`, so that rounding does not thicken the stroke.
fn shrunk(corners: &[(f32, f32)], by: f32) -> Vec<(f32, f32)> {
    let count = corners.len().max(1) as f32;
    let cx = corners.iter().map(|c| c.0).sum::<f32>() / count;
    let cy = corners.iter().map(|c| c.1).sum::<f32>() / count;
    let toward =
        |at: f32, middle: f32| if at > middle { (at - by).max(middle) } else { (at + by).min(middle) };
    corners.iter().map(|(x, y)| (toward(*x, cx), toward(*y, cy))).collect()
}

/// The strokes' middles in a cell, a to g.
const CENTERS: [(f32, f32); 7] =
    [(0.5, 0.05), (1.0, 0.27), (1.0, 0.73), (0.5, 0.95), (0.0, 0.73), (0.0, 0.27), (0.5, 0.5)];

const STROKES: [(char, u8); 33] = [
    ('0', 0b011_1111),
    ('O', 0b011_1111),
    ('1', 0b000_0110),
    ('2', 0b101_1011),
    ('3', 0b100_1111),
    ('4', 0b110_0110),
    ('5', 0b110_1101),
    ('S', 0b110_1101),
    ('6', 0b111_1101),
    ('7', 0b000_0111),
    ('8', 0b111_1111),
    ('9', 0b110_1111),
    ('-', 0b100_0000),
    ('L', 0b011_1000),
    ('E', 0b111_1001),
    ('F', 0b111_0001),
    ('A', 0b111_0111),
    ('b', 0b111_1100),
    ('C', 0b011_1001),
    ('c', 0b101_1000),
    ('d', 0b101_1110),
    ('H', 0b111_0110),
    ('h', 0b111_0100),
    ('I', 0b000_0110),
    ('i', 0b000_0100),
    ('n', 0b101_0100),
    ('o', 0b101_1100),
    ('P', 0b111_0011),
    ('r', 0b101_0000),
    ('t', 0b111_1000),
    ('U', 0b011_1110),
    ('u', 0b001_1100),
    ('D', 0b101_1110),
];
