//! From light to bytes: blur, exposure, tone, noise, sharpening, compression.

use crate::chance::Chance;
use crate::raster::Light;
use image::codecs::jpeg::{JpegDecoder, JpegEncoder};
use image::{ExtendedColorType, ImageDecoder};
use std::io::Cursor;

/// How one picture comes out of the camera.
#[derive(Debug, Clone, Copy)]
pub struct Finish {
    /// Deviation of the blur, in pixels.
    pub blur: f32,
    /// The hand's movement, in pixels.
    pub shake: (f32, f32),
    /// What light is multiplied by.
    pub exposure: f32,
    /// Error of the white balance.
    pub cast: Light,
    /// Deviation of the noise, as a share of white.
    pub noise: f32,
    /// Colored share of the noise.
    pub colored: f32,
    /// Sharpening by the camera.
    pub sharp: f32,
    /// Contrast curve.
    pub curve: f32,
    /// JPEG quality, none for uncompressed.
    pub quality: Option<u8>,
}

impl Finish {
    /// By chance, for digits that are `tall` pixels high.
    #[must_use]
    pub fn invent(chance: &mut Chance, tall: f32, hard: f32) -> Self {
        let blur = if chance.yes(0.4) {
            chance.between(0.2, 0.7)
        } else {
            chance.scale(0.3, (tall * 0.085).max(0.7))
        };
        let angle = chance.between(0.0, std::f32::consts::TAU);
        let shake = if chance.yes(0.2 * hard) { chance.between(0.0, tall * 0.12).min(9.0) } else { 0.0 };
        let warm = chance.normal() * 0.06;
        Self {
            blur: blur.min(4.5),
            shake: (angle.cos() * shake, angle.sin() * shake),
            exposure: 1.0,
            cast: [1.0 + warm, 1.0, 1.0 - warm],
            noise: chance.scale(0.002, 0.06),
            colored: chance.between(0.1, 0.9),
            sharp: if chance.yes(0.4) { chance.between(0.2, 1.6) } else { 0.0 },
            curve: chance.between(0.0, 0.7),
            quality: chance.yes(0.7).then(|| chance.between(32.0, 96.0) as u8),
        }
    }

    /// Light to what the picture shows, 0 to 1.
    #[must_use]
    pub fn tone(&self, light: Light) -> Light {
        times(light, self.cast).map(|part| self.shown(part))
    }

    fn shown(&self, light: f32) -> f32 {
        let seen = (light * self.exposure).max(0.0);
        let rolled = seen * (1.0 + seen / 9.0) / (1.0 + seen * 0.45);
        let even = rolled.powf(1.0 / 2.2).min(1.0);
        even + (even * even * (3.0 - 2.0 * even) - even) * self.curve
    }

    /// The same for many dots, by a table over the square root of light.
    fn toned(&self, light: Vec<Light>) -> Vec<Light> {
        const STEPS: usize = 2048;
        let most = (24.0 / self.exposure.max(1e-6)).sqrt();
        let unit = most / STEPS as f32;
        let table: Vec<f32> = (0..=STEPS + 1).map(|at| self.shown((at as f32 * unit).powi(2))).collect();
        let look = |light: f32| {
            let at = (light.max(0.0).sqrt() / unit).min(STEPS as f32);
            let low = at as usize;
            let (here, next) =
                (table.get(low).copied().unwrap_or(1.0), table.get(low + 1).copied().unwrap_or(1.0));
            here + (next - here) * (at - low as f32)
        };
        light.into_iter().map(|light| times(light, self.cast).map(look)).collect()
    }

    /// Makes the picture and cuts `pad` pixels off each side.
    #[must_use]
    pub fn develop(
        &self,
        light: Vec<Light>,
        (wide, high): (usize, usize),
        pad: usize,
        chance: &mut Chance,
    ) -> Vec<u8> {
        let light = self.blurred(light, wide, high);
        let mut seen = self.toned(light);
        for dot in &mut seen {
            let grey = noise_of(chance) * self.noise;
            let dark = 1.35 - 0.7 * dot[1];
            for part in dot.iter_mut() {
                *part += (grey + noise_of(chance) * self.noise * self.colored) * dark;
            }
        }
        if self.sharp > 0.0 {
            let soft = gaussian(&seen, wide, high, 1.2);
            for (dot, soft) in seen.iter_mut().zip(soft) {
                for (part, soft) in dot.iter_mut().zip(soft) {
                    *part += (*part - soft) * self.sharp;
                }
            }
        }
        let bytes: Vec<u8> = seen
            .chunks(wide.max(1))
            .skip(pad)
            .take(high.saturating_sub(2 * pad))
            .flat_map(|row| row.iter().skip(pad).take(wide.saturating_sub(2 * pad)))
            .flatten()
            .map(|part| (part.clamp(0.0, 1.0) * 255.0 + 0.5) as u8)
            .collect();
        let size = (wide.saturating_sub(2 * pad), high.saturating_sub(2 * pad));
        self.quality.and_then(|quality| through_jpeg(&bytes, size, quality)).unwrap_or(bytes)
    }

    fn blurred(&self, mut light: Vec<Light>, wide: usize, high: usize) -> Vec<Light> {
        let length = self.shake.0.hypot(self.shake.1);
        if length > 0.7 {
            let taps = (length.ceil() as i32).clamp(2, 10);
            let mut sum = vec![[0.0_f32; 3]; light.len()];
            for tap in 0..taps {
                let share = (tap as f32 + 0.5) / taps as f32 - 0.5;
                let (dx, dy) = ((self.shake.0 * share).round() as i64, (self.shake.1 * share).round() as i64);
                for y in 0..high as i64 {
                    let from = (y + dy).clamp(0, high as i64 - 1) * wide as i64;
                    for x in 0..wide as i64 {
                        let at = (from + (x + dx).clamp(0, wide as i64 - 1)) as usize;
                        let dot = light.get(at).copied().unwrap_or_default();
                        if let Some(sum) = sum.get_mut((y * wide as i64 + x) as usize) {
                            sum.iter_mut().zip(dot).for_each(|(sum, part)| *sum += part / taps as f32);
                        }
                    }
                }
            }
            light = sum;
        }
        if self.blur > 0.25 { gaussian(&light, wide, high, self.blur) } else { light }
    }
}

/// Component by component.
#[must_use]
pub fn times(a: Light, b: Light) -> Light {
    [a[0] * b[0], a[1] * b[1], a[2] * b[2]]
}

fn noise_of(chance: &mut Chance) -> f32 {
    (chance.share() + chance.share() - 1.0) * 2.45
}

fn gaussian(light: &[Light], wide: usize, high: usize, sigma: f32) -> Vec<Light> {
    let radius = (sigma * 2.4).ceil().max(1.0) as i64;
    let raw: Vec<f32> =
        (-radius..=radius).map(|at| (-(at * at) as f32 / (2.0 * sigma * sigma)).exp()).collect();
    let total: f32 = raw.iter().sum();
    let kernel: Vec<f32> = raw.iter().map(|share| share / total).collect();
    let mut across = Vec::with_capacity(light.len());
    for row in light.chunks(wide.max(1)) {
        for x in 0..wide as i64 {
            let mut sum = [0.0_f32; 3];
            for (share, at) in kernel.iter().zip(x - radius..) {
                let dot = row.get(at.clamp(0, wide as i64 - 1) as usize).copied().unwrap_or_default();
                sum.iter_mut().zip(dot).for_each(|(sum, part)| *sum += part * share);
            }
            across.push(sum);
        }
    }
    let mut out = vec![[0.0_f32; 3]; light.len()];
    for y in 0..high as i64 {
        for (share, at) in kernel.iter().zip(y - radius..) {
            let from = at.clamp(0, high as i64 - 1) as usize * wide;
            let source = across.get(from..from + wide).unwrap_or_default();
            let target = out.get_mut(y as usize * wide..(y as usize + 1) * wide);
            for (sum, dot) in target.into_iter().flatten().zip(source) {
                sum.iter_mut().zip(dot).for_each(|(sum, part)| *sum += part * share);
            }
        }
    }
    out
}

fn through_jpeg(bytes: &[u8], (wide, high): (usize, usize), quality: u8) -> Option<Vec<u8>> {
    let packed = jpeg(bytes, (wide, high), quality)?;
    let decoder = JpegDecoder::new(Cursor::new(packed)).ok()?;
    let mut out = vec![0; usize::try_from(decoder.total_bytes()).ok()?];
    decoder.read_image(&mut out).ok()?;
    (out.len() == wide * high * 3).then_some(out)
}

/// A picture as JPEG.
#[must_use]
pub fn jpeg(bytes: &[u8], (wide, high): (usize, usize), quality: u8) -> Option<Vec<u8>> {
    let mut packed = Vec::new();
    let (wide, high) = (u32::try_from(wide).ok()?, u32::try_from(high).ok()?);
    JpegEncoder::new_with_quality(&mut packed, quality)
        .encode(bytes, wide, high, ExtendedColorType::Rgb8)
        .ok()?;
    Some(packed)
}
