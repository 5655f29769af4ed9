//! Digits of five by seven dots, set by hand; the held-back set has other forms.

use crate::chance::Chance;
use crate::place::{Glyph, Place};
use crate::raster::Cover;
use crate::value::Sign;

/// One make of dot matrix; lengths in digit heights.
#[derive(Debug, Clone)]
pub struct Dots {
    /// Size of a dot as a share of the distance between dots.
    size: f32,
    /// Round dots rather than square ones.
    round: bool,
    /// Columns between two cells.
    between: f32,
    /// Width of a dot's step beside its height.
    narrow: f32,
    /// A point takes a whole cell rather than two columns.
    wide_point: bool,
    /// Dots that are not lit can be seen.
    other: bool,
}

impl Dots {
    /// A make by chance.
    #[must_use]
    pub fn invent(chance: &mut Chance, held_back: bool) -> Self {
        Self {
            size: chance.between(0.6, 1.05),
            round: chance.yes(0.4),
            between: chance.pick(&[1.0, 1.0, 1.5, 2.0], 1.0),
            narrow: chance.between(0.75, 1.1),
            wide_point: chance.yes(0.5),
            other: held_back,
        }
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
        let step = 1.0 / 7.0;
        let across = step * self.narrow;
        let letter = match sign {
            Sign::Letter(letter) => letter,
            Sign::Point => '.',
            Sign::Blank => ' ',
        };
        let rows = rows(letter, self.other);
        let (from, columns) = if letter == '.' && !self.wide_point { (2, 2) } else { (0, 5) };
        let mut ink = [f32::MAX, f32::MAX, f32::MIN, f32::MIN];
        let mut probes = Vec::new();
        for (y, bits) in rows.iter().enumerate() {
            for x in 0..columns {
                let (cx, cy) = (*pen + (x as f32 + 0.5) * across, (y as f32 + 0.5) * step);
                let on = bits & (0b10000 >> (x + from)) != 0;
                self.dot(if on { &mut *lit } else { &mut *ghost }, place, (cx, cy), across.min(step));
                if on {
                    let half = (across / 2.0, step / 2.0);
                    ink = [
                        ink[0].min(cx - half.0),
                        ink[1].min(cy - half.1),
                        ink[2].max(cx + half.0),
                        ink[3].max(cy + half.1),
                    ];
                    if letter == '.' || letter == '-' {
                        probes.push((cx, cy));
                    }
                }
                if letter != '.' && letter != '-' && x % 2 == 0 && y % 2 == 0 {
                    probes.push((cx, cy));
                }
            }
        }
        *pen += (columns as f32 + self.between) * across;
        (letter != ' ').then_some(Glyph { letter, ink, probes })
    }

    fn dot(&self, cover: &mut Cover, place: &Place, (cx, cy): (f32, f32), step: f32) {
        let (x, y) = place.dots(cx, cy);
        let half = step * self.size / 2.0 * place.scale;
        if self.round {
            cover.disc(x, y, half, 1.0);
        } else {
            cover.rectangle(x - half, y - half, 2.0 * half, 2.0 * half, 0.0, 1.0);
        }
    }
}

/// Seven rows of five bits.
fn rows(letter: char, other: bool) -> [u8; 7] {
    match (letter, other) {
        ('0' | 'O', false) => [14, 17, 19, 21, 25, 17, 14],
        ('0' | 'O', true) => [14, 17, 17, 17, 17, 17, 14],
        ('1', false) => [4, 12, 4, 4, 4, 4, 14],
        ('1', true) => [2, 6, 10, 2, 2, 2, 2],
        ('2', false) => [14, 17, 1, 2, 4, 8, 31],
        ('2', true) => [30, 1, 1, 14, 16, 16, 31],
        ('3', false) => [31, 2, 4, 2, 1, 17, 14],
        ('3', true) => [30, 1, 1, 14, 1, 1, 30],
        ('4', false) => [2, 6, 10, 18, 31, 2, 2],
        ('4', true) => [16, 18, 18, 18, 31, 2, 2],
        ('5', false) => [31, 16, 30, 1, 1, 17, 14],
        ('5', true) => [31, 16, 16, 30, 1, 1, 30],
        ('6', false) => [6, 8, 16, 30, 17, 17, 14],
        ('6', true) => [14, 16, 16, 30, 17, 17, 14],
        ('7', false) => [31, 1, 2, 4, 8, 8, 8],
        ('7', true) => [31, 17, 1, 2, 2, 4, 4],
        ('8', _) => [14, 17, 17, 14, 17, 17, 14],
        ('9', false) => [14, 17, 17, 15, 1, 2, 12],
        ('9', true) => [14, 17, 17, 15, 1, 1, 14],
        ('-', _) => [0, 0, 0, 31, 0, 0, 0],
        ('.', _) => [0, 0, 0, 0, 0, 12, 12],
        ('L', _) => [16, 16, 16, 16, 16, 16, 31],
        (' ', _) => [0; 7],
        ('E', _) => [31, 16, 16, 30, 16, 16, 31],
        ('A', _) => [14, 17, 17, 31, 17, 17, 17],
        ('H', _) => [17, 17, 17, 31, 17, 17, 17],
        ('F', _) => [31, 16, 16, 30, 16, 16, 16],
        ('C', _) => [14, 17, 16, 16, 16, 17, 14],
        ('P', _) => [30, 17, 17, 30, 16, 16, 16],
        ('S', _) => [15, 16, 16, 14, 1, 1, 30],
        ('U', _) => [17, 17, 17, 17, 17, 17, 14],
        ('V', _) => [17, 17, 17, 17, 17, 10, 4],
        ('I', _) => [14, 4, 4, 4, 4, 4, 14],
        ('d' | 'D', _) => [30, 17, 17, 17, 17, 17, 30],
        ('b', _) => [16, 16, 22, 25, 17, 17, 30],
        ('r', _) => [0, 0, 22, 25, 16, 16, 16],
        ('n', _) => [0, 0, 22, 25, 17, 17, 17],
        ('t', _) => [8, 8, 28, 8, 8, 9, 6],
        ('o', _) => [0, 0, 14, 17, 17, 17, 14],
        ('u', _) => [0, 0, 17, 17, 17, 19, 13],
        ('i', _) => [4, 0, 12, 4, 4, 4, 14],
        ('m', _) => [0, 0, 26, 21, 21, 21, 21],
        ('M', _) => [17, 27, 21, 21, 17, 17, 17],
        ('k', _) => [16, 16, 18, 20, 24, 20, 18],
        ('z', _) => [0, 0, 31, 2, 4, 8, 31],
        ('%', _) => [24, 25, 2, 4, 8, 19, 3],
        _ => [21, 10, 21, 10, 21, 10, 21],
    }
}
