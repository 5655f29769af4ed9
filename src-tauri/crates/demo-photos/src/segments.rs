//! Seven-segment digits, drawn by our own strokes.

use crate::canvas::Canvas;
use crate::vector::V3;

/// Size, slant and colour of a display's digits.
#[derive(Debug, Clone, Copy)]
pub struct Digits {
    pub height: f32,
    /// Sideways shift per unit of height; most displays lean by about a tenth.
    pub lean: f32,
    pub colour: V3,
}

impl Digits {
    /// Distance from one digit to the next.
    fn pitch(&self) -> f32 {
        self.height * 0.68
    }

    /// Draws `value` so that it ends at `right`, standing on `bottom`.
    pub fn draw(&self, canvas: &mut Canvas, right: f32, bottom: f32, value: &str) {
        let mut x = right - self.pitch();
        for letter in value.chars().rev() {
            if letter == '.' {
                // The point has room of its own, so that it is read even in a blurred picture.
                let radius = self.height * 0.078;
                x -= self.height * 0.1;
                canvas.disc(
                    x + self.pitch() - self.height * 0.03,
                    bottom - radius * 0.6,
                    radius,
                    self.colour,
                );
            } else {
                self.digit(canvas, x, bottom, lit(letter));
                x -= self.pitch();
            }
        }
    }

    fn digit(&self, canvas: &mut Canvas, x: f32, bottom: f32, lit: u8) {
        let (w, h) = (self.height * 0.46, self.height);
        let gap = h * 0.06;
        let at = |fx: f32, fy: f32| (x + w * fx + self.lean * h * fy, bottom - h * fy);
        // a b c d e f g: the usual names of the seven strokes, from the top clockwise, the middle last.
        let strokes = [
            ((0.0, 1.0), (1.0, 1.0)),
            ((1.0, 1.0), (1.0, 0.5)),
            ((1.0, 0.5), (1.0, 0.0)),
            ((0.0, 0.0), (1.0, 0.0)),
            ((0.0, 0.5), (0.0, 0.0)),
            ((0.0, 1.0), (0.0, 0.5)),
            ((0.0, 0.5), (1.0, 0.5)),
        ];
        for (index, (from, to)) in strokes.into_iter().enumerate() {
            if lit & (1 << index) != 0 {
                let (from, to) = shorten(at(from.0, from.1), at(to.0, to.1), gap * 1.25);
                canvas.line(from, to, gap * 2.0, self.colour);
            }
        }
    }
}

fn shorten(from: (f32, f32), to: (f32, f32), by: f32) -> ((f32, f32), (f32, f32)) {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let share = by / dx.hypot(dy).max(1e-3);
    ((from.0 + dx * share, from.1 + dy * share), (to.0 - dx * share, to.1 - dy * share))
}

/// Lit strokes, bit 0 = a … bit 6 = g.
fn lit(letter: char) -> u8 {
    match letter {
        '0' | 'O' => 0b011_1111,
        '1' => 0b000_0110,
        '2' => 0b101_1011,
        '3' => 0b100_1111,
        '4' => 0b110_0110,
        '5' | 'S' => 0b110_1101,
        '6' => 0b111_1101,
        '7' => 0b000_0111,
        '8' => 0b111_1111,
        '9' => 0b110_1111,
        'L' => 0b011_1000,
        'E' => 0b111_1001,
        'r' => 0b101_0000,
        '-' | '−' => 0b100_0000,
        _ => 0,
    }
}
