//! From light to a developed picture: depth of field, vignette, flare, exposure, noise.

use crate::camera::{Camera, Exposure};
use crate::chance::{Chance, grain};
use crate::vector::{V3, grey, v};
use rayon::prelude::*;

/// How the picture comes out of the camera.
#[derive(Debug, Clone, Copy)]
pub struct Film {
    pub exposure: f32,
    /// White balance error, near 1 in each colour.
    pub cast: V3,
    pub noise: f32,
    /// Motion blur of the hand, in picture elements of a picture 900 high.
    pub shake: (f32, f32),
    /// A veil of stray light: place (0 to 1) and strength.
    pub flare: (f32, f32, f32),
    pub seed: u32,
}

impl Film {
    pub fn by_chance(chance: &mut Chance, seed: u32) -> Self {
        let warm = chance.between(-0.06, 0.06);
        Self {
            exposure: chance.between(0.92, 1.12),
            cast: v(1.0 + warm, 1.0, 1.0 - warm),
            noise: chance.between(0.010, 0.018),
            shake: (chance.between(-0.7, 0.7), chance.between(-0.7, 0.7)),
            flare: (chance.between(0.05, 0.95), chance.between(-0.1, 0.3), chance.between(0.0, 0.035)),
            seed,
        }
    }
}

/// Three bytes for each picture element, row by row.
pub fn develop(exposure: &Exposure, camera: &Camera, film: &Film) -> Vec<u8> {
    let blurred = out_of_focus(exposure, camera, film);
    let (width, height) = (exposure.width, exposure.height);
    let dots: Vec<[u8; 3]> = blurred
        .par_iter()
        .enumerate()
        .map(|(at, light)| {
            let (x, y) = (at % width, at / width);
            let (u, w) = ((x as f32 + 0.5) / width as f32, (y as f32 + 0.5) / height as f32);
            finish(*light, u, w, x as u32, y as u32, film)
        })
        .collect();
    dots.concat()
}

/// Gathers light over the blur circle of each place (a sunflower of 28 seeds), and along the hand's shake.
fn out_of_focus(exposure: &Exposure, camera: &Camera, film: &Film) -> Vec<V3> {
    let (width, height) = (exposure.width, exposure.height);
    let size = height as f32;
    let circle = |depth: f32| {
        (camera.aperture * size * (1.0 - camera.focus() / depth.max(0.1)).abs() * 2.0).min(size * 0.03)
    };
    let get = |x: f32, y: f32| {
        let (x, y) = (x.clamp(0.0, width as f32 - 1.0) as usize, y.clamp(0.0, size - 1.0) as usize);
        exposure.dots.get(y * width + x).copied().unwrap_or_default()
    };
    (0..width * height)
        .into_par_iter()
        .map(|at| {
            let (x, y) = ((at % width) as f32 + 0.5, (at / width) as f32 + 0.5);
            let here = get(x, y);
            let (own, mut sum, mut weight) = (circle(here.depth), here.light.map(|l| l.min(4.0)), 1.0);
            let reach = own.max(0.45);
            for seed in 0..28 {
                let out = ((seed as f32 + 0.5) / 28.0).sqrt();
                let (s, c) = (seed as f32 * 2.399_963).sin_cos();
                let swing = (seed as f32 / 13.5 - 1.0) * size / 900.0;
                let dot = get(
                    x + c * out * reach + film.shake.0 * swing,
                    y + s * out * reach + film.shake.1 * swing,
                );
                // A sharp neighbour in front does not smear over a blurred background.
                let share = if dot.depth < here.depth * 0.97 {
                    (circle(dot.depth) / (out * reach).max(0.5)).min(1.0)
                } else {
                    1.0
                };
                sum = sum + dot.light.map(|l| l.min(4.0)) * share;
                weight += share;
            }
            sum * (1.0 / weight)
        })
        .collect()
}

fn finish(light: V3, u: f32, w: f32, x: u32, y: u32, film: &Film) -> [u8; 3] {
    let (dx, dy) = ((u - 0.5) * 1.33, w - 0.5);
    let vignette = 1.0 / (1.0 + 0.55 * (dx * dx + dy * dy)).powi(2);
    let (fx, fy, strength) = film.flare;
    let veil = strength * (-((u - fx).powi(2) + (w - fy).powi(2)) * 4.0).exp();
    let seen = light.times(film.cast) * (film.exposure * vignette) + v(veil, veil * 0.96, veil * 0.88);
    let plain = seen.map(tone);
    let middle = grey((plain.x + plain.y + plain.z) / 3.0);
    let toned = middle.mix(plain, 1.14);
    // Fine brightness noise, coarser colour noise, both stronger in the dark.
    let dark = film.noise * (1.25 - 0.75 * toned.largest().min(1.0));
    let fine = grain(x, y, film.seed) * 0.6 + grain(x / 2, y / 2, film.seed ^ 1) * 0.4;
    let coarse = |salt: u32| grain(x / 3, y / 3, film.seed ^ salt) * 0.45;
    let noisy = toned + v(fine + coarse(2), fine, fine + coarse(3)) * dark;
    let byte = |value: f32| (value.clamp(0.0, 1.0) * 255.0 + 0.5) as u8;
    [byte(noisy.x), byte(noisy.y), byte(noisy.z)]
}

/// Rolls off bright light like a phone camera and turns it into sRGB.
fn tone(light: f32) -> f32 {
    let l = light.max(0.0);
    let rolled = l * (1.0 + l / 6.0) / (1.0 + l * 0.75);
    let even = (rolled * 1.12).powf(1.0 / 2.2).min(1.0);
    even + (even * even * (3.0 - 2.0 * even) - even) * 0.55
}
