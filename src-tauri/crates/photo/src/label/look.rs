//! One look at a picture: a part of it, turned and made larger or smaller, its light and edges corrected.

use crate::display::plane::Point;
use image::imageops::{fast_blur, thumbnail};
use image::{GrayImage, Luma};

/// Which part of the picture is looked at, and how.
#[derive(Debug, Clone, Copy)]
pub struct Look {
    /// Longer side of what is looked at, in pixels; never more than twice what the picture has.
    pub side: f32,
    /// Turned by this many degrees.
    pub turn: f32,
    /// Share of the picture's sides.
    pub share: f32,
    /// Its middle, as a share of the picture's width and height.
    pub center: (f32, f32),
}

/// What is done to the light and the edges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Treatment {
    /// Nothing.
    Plain,
    /// The darkest becomes black, the lightest white.
    Stretched,
    /// Edges are raised: a picture out of focus.
    Sharp,
    /// Spots are smoothed: dirt and noise.
    Smooth,
    /// The light is made even: a shadow over a part of it.
    Even,
}

/// A picture and its half, so that what is made smaller is averaged.
pub struct Gray {
    whole: GrayImage,
    half: GrayImage,
}

/// What is looked at, and where each of its pixels lies in the picture.
pub struct Seen {
    pub pixels: GrayImage,
    /// Cosine and sine of the turn by picture pixels a pixel.
    step: (f32, f32),
    /// Middle in the picture and of what is looked at.
    middles: (Point, Point),
}

/// Shares of the pixels that stretching gives up at either end.
const OUTLIERS: f32 = 0.02;

impl Gray {
    /// Takes the picture over.
    pub fn new(whole: GrayImage) -> Self {
        let half = thumbnail(&whole, (whole.width() / 2).max(1), (whole.height() / 2).max(1));
        Self { whole, half }
    }

    /// Nothing where the picture is too small to look at.
    pub fn look(&self, look: &Look, treatment: Treatment) -> Option<Seen> {
        let (wide, high) = (self.whole.width() as f32 * look.share, self.whole.height() as f32 * look.share);
        let scale = (look.side / wide.max(high)).min(2.0);
        let (cosine, sine) = (look.turn.to_radians().cos(), look.turn.to_radians().sin());
        // Turned, the corners go on being seen.
        let out_wide = (wide * cosine.abs() + high * sine.abs()) * scale;
        let out_high = (wide * sine.abs() + high * cosine.abs()) * scale;
        let size = (out_wide.round() as u32, out_high.round() as u32);
        if size.0 < 8 || size.1 < 8 {
            return None;
        }
        let middle = (self.whole.width() as f32 * look.center.0, self.whole.height() as f32 * look.center.1);
        let seen = Seen {
            pixels: GrayImage::new(0, 0),
            step: (cosine / scale, sine / scale),
            middles: (middle, (size.0 as f32 / 2.0, size.1 as f32 / 2.0)),
        };
        let (level, shrunk) = if scale < 0.75 { (&self.half, 0.5) } else { (&self.whole, 1.0) };
        let pixels = GrayImage::from_fn(size.0, size.1, |x, y| {
            let (x, y) = seen.back((x as f32 + 0.5, y as f32 + 0.5));
            Luma([at(level, x * shrunk - 0.5, y * shrunk - 0.5)])
        });
        Some(Seen { pixels: treated(pixels, treatment), ..seen })
    }
}

impl Seen {
    /// Where a place lies in the picture.
    pub fn back(&self, (x, y): Point) -> Point {
        let ((px, py), (mx, my)) = self.middles;
        let ((cosine, sine), (dx, dy)) = (self.step, (x - mx, y - my));
        (px + cosine * dx - sine * dy, py + sine * dx + cosine * dy)
    }
}

/// The light at a place, between its four pixels; light grey beyond the picture, like a label's margin.
fn at(picture: &GrayImage, x: f32, y: f32) -> u8 {
    let (left, top) = (x.floor(), y.floor());
    let (fx, fy) = (x - left, y - top);
    let one = |dx: f32, dy: f32| {
        let (x, y) = (left + dx, top + dy);
        let inside = x >= 0.0 && y >= 0.0;
        let pixel = inside.then(|| picture.get_pixel_checked(x as u32, y as u32)).flatten();
        pixel.map_or(200.0, |Luma([light])| f32::from(*light))
    };
    let upper = one(0.0, 0.0) * (1.0 - fx) + one(1.0, 0.0) * fx;
    let lower = one(0.0, 1.0) * (1.0 - fx) + one(1.0, 1.0) * fx;
    (upper * (1.0 - fy) + lower * fy).round() as u8
}

fn treated(pixels: GrayImage, treatment: Treatment) -> GrayImage {
    match treatment {
        Treatment::Plain => pixels,
        Treatment::Stretched => stretched(pixels),
        Treatment::Smooth => fast_blur(&pixels, 1.2),
        Treatment::Even => even(&fast_blur(&pixels, 0.7)),
        Treatment::Sharp => {
            let blurred = fast_blur(&pixels, 2.5);
            let raised = pixels.iter().zip(blurred.iter()).map(|(sharp, soft)| {
                let (sharp, soft) = (f32::from(*sharp), f32::from(*soft));
                (sharp + 1.8 * (sharp - soft)).clamp(0.0, 255.0) as u8
            });
            let (wide, high) = pixels.dimensions();
            GrayImage::from_raw(wide, high, raised.collect()).map_or(pixels, stretched)
        }
    }
}

/// How much of the light around a place half of it is taken for.
const HALF: f32 = 128.0;

/// Each pixel by the light around it, over a fortieth of the picture.
fn even(pixels: &GrayImage) -> GrayImage {
    let (wide, high) = pixels.dimensions();
    let around = fast_blur(pixels, wide.max(high) as f32 / 40.0);
    let light = pixels.iter().zip(around.iter()).map(|(here, around)| {
        (f32::from(*here) / f32::from(*around).max(1.0) * HALF).clamp(0.0, 255.0) as u8
    });
    GrayImage::from_raw(wide, high, light.collect()).unwrap_or_default()
}

fn stretched(mut pixels: GrayImage) -> GrayImage {
    let mut counts = [0_u32; 256];
    for light in pixels.iter() {
        if let Some(count) = counts.get_mut(usize::from(*light)) {
            *count += 1;
        }
    }
    let given_up = (pixels.len() as f32 * OUTLIERS) as u32;
    let dark = end(&counts, given_up, 0..256).unwrap_or(0);
    let light = end(&counts, given_up, (0..256).rev()).unwrap_or(255);
    let span = light.saturating_sub(dark).max(1) as f32;
    for value in pixels.iter_mut() {
        *value = ((f32::from(*value) - dark as f32) / span * 255.0).clamp(0.0, 255.0) as u8;
    }
    pixels
}

/// The first light beyond those that are given up.
fn end(counts: &[u32; 256], given_up: u32, mut lights: impl Iterator<Item = usize>) -> Option<usize> {
    let mut left = given_up;
    lights.find(|light| {
        let count = counts.get(*light).copied().unwrap_or(0);
        let over = count > left;
        left = left.saturating_sub(count);
        over
    })
}
