//! Straightened cuts of a picture.

use super::plane::{Point, Projection};
use image::RgbImage;
use image::imageops::thumbnail;

/// What stands where a cut reaches beyond the picture.
const BEYOND: [f32; 3] = [118.0; 3];
/// Width and height of what the recognizer looks at, in pixels.
pub const CUT: (usize, usize) = (192, 48);
/// Free space above and below the cells in a cut, in digit heights.
const ABOVE: f32 = 0.25;

/// A picture with halved copies of itself, so that every cut averages what it leaves out.
#[derive(Debug)]
pub struct Pyramid {
    levels: Vec<RgbImage>,
}

/// How the cells of a display lie in a cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Framing {
    /// Least free space before the first and after the last cell, in digit heights.
    pub before: f32,
    /// See `before`.
    pub after: f32,
    /// Moves the cut, in digit heights.
    pub shift: (f32, f32),
    /// Enlarges what is cut out; 1 leaves it.
    pub zoom: f32,
}

impl Pyramid {
    /// Takes the picture over.
    #[must_use]
    pub fn new(picture: RgbImage) -> Self {
        let mut levels = vec![picture];
        while let Some(last) = levels.last().filter(|last| last.width() >= 32 && last.height() >= 32) {
            let half = halved(last);
            levels.push(half);
        }
        Self { levels }
    }
    /// Width and height in pixels.
    #[must_use]
    pub fn size(&self) -> (u32, u32) {
        self.levels.first().map_or((0, 0), RgbImage::dimensions)
    }
    /// The whole picture.
    #[must_use]
    pub fn whole(&self) -> Option<&RgbImage> {
        self.levels.first()
    }

    /// Cuts `wide` by `high` pixels; `map` leads from pixels of the cut to pixels of the picture.
    #[must_use]
    pub fn cut(&self, map: &Projection, (wide, high): (usize, usize)) -> Vec<u8> {
        let reach = step(map, wide, high);
        let level = (reach.max(1.0).log2() as usize).min(self.levels.len().saturating_sub(1));
        let Some(picture) = self.levels.get(level) else { return vec![118; wide * high * 3] };
        let shrink = 1.0 / (1_u32 << level) as f32;
        // Two by two places a pixel once pixels of the picture are smaller than those of the cut.
        let taps: &[f32] = if reach * shrink > 1.1 { &[0.25, 0.75] } else { &[0.5] };
        let share = 1.0 / (taps.len() * taps.len()) as f32;
        let mut out = Vec::with_capacity(wide * high * 3);
        for y in 0..high {
            for x in 0..wide {
                let mut sum = [0.0_f32; 3];
                for dy in taps {
                    for dx in taps {
                        let (px, py) = map.apply((x as f32 + dx, y as f32 + dy));
                        let seen = between(picture, px * shrink - 0.5, py * shrink - 0.5);
                        sum.iter_mut().zip(seen).for_each(|(sum, part)| *sum += part * share);
                    }
                }
                out.extend(sum.map(|part| (part + 0.5) as u8));
            }
        }
        out
    }
}

impl Framing {
    /// As the recognizer is asked first.
    pub const PLAIN: Self = Self { before: 0.8, after: 0.8, shift: (0.0, 0.0), zoom: 1.0 };

    /// From pixels of the cut to pixels of the picture, for cells whose corners are given from the upper left around.
    #[must_use]
    pub fn map(&self, corners: [Point; 4]) -> Projection {
        let across = width_in_heights(corners);
        let (wide, high) = (CUT.0 as f32, CUT.1 as f32);
        let tall = (1.0 + 2.0 * ABOVE) * self.zoom;
        let needed = across + self.before + self.after;
        let span = (needed * self.zoom).max(tall * wide / high);
        let middle = (across + self.after - self.before) / 2.0 + self.shift.0;
        let top = 0.5 - tall / 2.0 + self.shift.1;
        let to_heights = Projection::stretch(span / wide, tall / high, middle - span / 2.0, top);
        let to_square = Projection::stretch(1.0 / across, 1.0, 0.0, 0.0);
        to_heights.then(&to_square).then(&Projection::of_square(corners))
    }
}

/// How many digit heights the cells are wide: at least a fifth, at most forty.
#[must_use]
pub fn width_in_heights([a, b, c, d]: [Point; 4]) -> f32 {
    let length = |p: Point, q: Point| (p.0 - q.0).hypot(p.1 - q.1);
    let (wide, high) = (length(a, b) + length(d, c), length(a, d) + length(b, c));
    let share = wide / high.max(1e-3);
    if share.is_finite() { share.clamp(0.2, 40.0) } else { 0.2 }
}

fn halved(picture: &RgbImage) -> RgbImage {
    let (wide, high) = ((picture.width() / 2).max(1), (picture.height() / 2).max(1));
    thumbnail(picture, wide, high)
}

/// How many pixels of the picture one pixel of the cut steps over, in its middle.
fn step(map: &Projection, wide: usize, high: usize) -> f32 {
    let (x, y) = (wide as f32 / 2.0, high as f32 / 2.0);
    let (here, right, below) = (map.apply((x, y)), map.apply((x + 1.0, y)), map.apply((x, y + 1.0)));
    let length = |p: Point| (p.0 - here.0).hypot(p.1 - here.1);
    let both = (length(right) * length(below)).sqrt();
    if both.is_finite() { both } else { 1.0 }
}

fn between(picture: &RgbImage, x: f32, y: f32) -> [f32; 3] {
    let (wide, high) = (picture.width() as f32, picture.height() as f32);
    if !(x > -1.0 && y > -1.0 && x < wide && y < high) {
        return BEYOND;
    }
    let (left, top) = (x.floor(), y.floor());
    let (fx, fy) = (x - left, y - top);
    let dot = |x: f32, y: f32| {
        let pixel = picture.get_pixel(x.clamp(0.0, wide - 1.0) as u32, y.clamp(0.0, high - 1.0) as u32);
        pixel.0.map(f32::from)
    };
    let (a, b, c, d) =
        (dot(left, top), dot(left + 1.0, top), dot(left, top + 1.0), dot(left + 1.0, top + 1.0));
    std::array::from_fn(|at| {
        let get = |from: &[f32; 3]| from.get(at).copied().unwrap_or(0.0);
        let (upper, lower) = (get(&a) + (get(&b) - get(&a)) * fx, get(&c) + (get(&d) - get(&c)) * fx);
        upper + (lower - upper) * fy
    })
}
