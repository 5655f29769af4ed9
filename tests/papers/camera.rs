//! A sheet on a desk, photographed: turned, tilted, bent, creased, faded, in bad light, out of focus, grainy.

use super::Chance;
use image::{GrayImage, Luma};
use std::io::Cursor;

/// What happens to a paper on its way into the picture.
#[derive(Clone, Copy, Debug)]
pub struct Wear {
    /// Turned, in degrees.
    pub turn: f32,
    /// How much smaller the far side is, across and down.
    pub tilt: (f32, f32),
    /// How far the middle is bent away, in widths.
    pub bend: f32,
    /// Creases from a folding.
    pub creases: u32,
    /// Light at the darkest, of 1, and whether a shadow's edge lies across.
    pub light: f32,
    pub shadow: bool,
    /// Ink left where it faded most, of 1.
    pub ink: f32,
    /// Spread of the blur, in pixels.
    pub blur: f32,
    /// Grains of noise, in gray levels.
    pub noise: f32,
}

impl Wear {
    /// By chance. One in ten lies sideways or upside down.
    pub fn of(chance: &mut Chance, thermal: bool) -> Self {
        let lying = if chance.share() < 0.1 { chance.one(&[90.0, 180.0, 270.0]) } else { 0.0 };
        Self {
            turn: lying + chance.between(-7.0, 7.0),
            tilt: (chance.between(-0.12, 0.12), chance.between(-0.12, 0.12)),
            bend: chance.between(-0.02, 0.02),
            creases: chance.below(3) as u32,
            light: chance.between(0.35, 1.0),
            shadow: chance.share() < 0.5,
            ink: if thermal { chance.between(0.25, 0.9) } else { chance.between(0.8, 1.0) },
            blur: chance.between(0.4, 1.7),
            noise: chance.between(1.0, 14.0),
        }
    }
}

/// The sheet in a picture, as JPEG.
pub fn photographed(sheet: &GrayImage, wear: &Wear, size: (u32, u32), chance: &mut Chance) -> Vec<u8> {
    let lies = (wear.turn.to_radians().sin()).abs() > 0.7;
    let (wide, high) = if lies { (size.1, size.0) } else { size };
    let (sheet_wide, sheet_high) = (sheet.width() as f32, sheet.height() as f32);
    let scale = (0.8 * size.0 as f32 / sheet_wide).min(0.8 * size.1 as f32 / sheet_high);
    let creases: Vec<(bool, f32, f32)> = (0..wear.creases)
        .map(|_| (chance.share() < 0.5, chance.between(0.25, 0.75), chance.between(-0.05, 0.05)))
        .collect();
    let (cosine, sine) = (wear.turn.to_radians().cos(), wear.turn.to_radians().sin());
    let bands = chance.between(20.0, 60.0);
    let (edge, slope) = (chance.between(0.3, 0.7), chance.between(-0.5, 0.5));
    let mut picture = GrayImage::from_fn(wide, high, |x, y| {
        let (dx, dy) = ((x as f32 - wide as f32 / 2.0) / scale, (y as f32 - high as f32 / 2.0) / scale);
        let (u, v) = (dx * cosine + dy * sine, dy * cosine - dx * sine);
        let far = 1.0 + wear.tilt.0 * u / sheet_wide + wear.tilt.1 * v / sheet_high;
        let (u, v) = (u / far / sheet_wide, v / far / sheet_high);
        // In shares of the sheet from its middle; a bent sheet's rows run in arcs.
        let v = v + wear.bend * (1.0 - 4.0 * u * u) * sheet_wide / sheet_high;
        let (mut shade, mut pushed) = (1.0, 0.0);
        for (down, at, lean) in &creases {
            let (along, across) = if *down { (v, u + 0.5) } else { (u, v + 0.5) };
            let off = across - at - lean * along;
            shade *=
                1.0 - 0.22 * (-(off / 0.004).powi(2)).exp() + 0.05 * off.signum() * (-off.abs() / 0.08).exp();
            pushed += 0.0012 * (-(off / 0.01).powi(2)).exp();
        }
        let (px, py) = ((u + 0.5) * sheet_wide, (v + 0.5 + pushed) * sheet_high);
        let inside = px > 0.0 && py > 0.0 && px < sheet_wide && py < sheet_high;
        let paper = if inside {
            let faded = 0.5 + 0.5 * (u * bands).sin() * (v * 9.0 + 1.0).sin();
            let ink = wear.ink + (1.0 - wear.ink) * 0.6 * faded;
            238.0 - (238.0 - 25.0) * ink * (1.0 - lightness(sheet, px, py))
        } else {
            96.0
        };
        let (sx, sy) = (x as f32 / wide as f32, y as f32 / high as f32);
        let mut light = 1.0 - (1.0 - wear.light) * 0.6 * sx;
        if wear.shadow {
            let off = (sy - edge - slope * (sx - 0.5)) / 0.03;
            light *= 1.0 - (1.0 - wear.light) * 0.55 / (1.0 + (-off).exp());
        }
        Luma([(paper * shade * light).clamp(0.0, 255.0) as u8])
    });
    picture = image::imageops::blur(&picture, wear.blur.max(0.1));
    for Luma([light]) in picture.pixels_mut() {
        let grain = wear.noise * (chance.share() + chance.share() + chance.share() - 1.5);
        *light = (f32::from(*light) + grain).clamp(0.0, 255.0) as u8;
    }
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Jpeg).expect("a picture can be written");
    bytes.into_inner()
}

/// Between the pixels; white beyond them.
fn lightness(sheet: &GrayImage, x: f32, y: f32) -> f32 {
    let (left, top) = ((x - 0.5).floor(), (y - 0.5).floor());
    let (fx, fy) = (x - 0.5 - left, y - 0.5 - top);
    let one = |dx: f32, dy: f32| {
        let (x, y) = (left + dx, top + dy);
        let inside = x >= 0.0 && y >= 0.0;
        let pixel = inside.then(|| sheet.get_pixel_checked(x as u32, y as u32)).flatten();
        pixel.map_or(1.0, |Luma([light])| f32::from(*light) / 255.0)
    };
    let upper = one(0.0, 0.0) * (1.0 - fx) + one(1.0, 0.0) * fx;
    let lower = one(0.0, 1.0) * (1.0 - fx) + one(1.0, 1.0) * fx;
    upper * (1.0 - fy) + lower * fy
}
