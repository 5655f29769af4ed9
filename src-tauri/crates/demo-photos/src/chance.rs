//! Repeatable chance: the same seed draws the same picture.

use crate::vector::V3;

/// A small counter-based generator (the finaliser of MurmurHash3, public domain).
#[derive(Debug, Clone)]
pub struct Chance(u32);

impl Chance {
    pub fn new(seed: u32) -> Self {
        Self(mix(seed ^ 0x9E37_79B9))
    }
    /// From 0 up to 1.
    pub fn share(&mut self) -> f32 {
        self.0 = self.0.wrapping_add(0x9E37_79B9);
        unit(mix(self.0))
    }
    pub fn between(&mut self, low: f32, high: f32) -> f32 {
        low + (high - low) * self.share()
    }
    pub fn pick<T: Copy>(&mut self, choices: &[T], otherwise: T) -> T {
        let at = (self.share() * choices.len() as f32) as usize;
        choices.get(at).copied().unwrap_or(otherwise)
    }
}

/// A seed from a name, so that a picture does not change when the list around it does (FNV-1a).
pub fn seed_of(name: &str) -> u32 {
    name.bytes().fold(0x811C_9DC5, |hash, byte| (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193))
}

/// About normal, mean 0, deviation 1 (sum of four).
pub fn grain(x: u32, y: u32, seed: u32) -> f32 {
    let hash = mix(x.wrapping_mul(0x8DA6_B343) ^ y.wrapping_mul(0xD816_3841) ^ seed);
    let byte = |shift: u32| ((hash >> shift) & 0xFF) as f32 / 255.0;
    (byte(0) + byte(8) + byte(16) + byte(24) - 2.0) * 1.73
}

/// Smooth noise from 0 to 1 with features one unit wide.
pub fn noise(p: V3) -> f32 {
    let base = p.map(f32::floor);
    let f = (p - base).map(|t| t * t * (3.0 - 2.0 * t));
    let (x, y, z) = (base.x as i32, base.y as i32, base.z as i32);
    let corner = |dx, dy, dz| lattice(x + dx, y + dy, z + dz);
    let line = |dy, dz| corner(0, dy, dz) + (corner(1, dy, dz) - corner(0, dy, dz)) * f.x;
    let face = |dz| line(0, dz) + (line(1, dz) - line(0, dz)) * f.y;
    face(0) + (face(1) - face(0)) * f.z
}

/// Three octaves of [`noise`].
pub fn cloud(p: V3) -> f32 {
    (noise(p) + 0.5 * noise(p * 2.1) + 0.25 * noise(p * 4.3)) / 1.75
}

fn lattice(x: i32, y: i32, z: i32) -> f32 {
    let hash = (x as u32).wrapping_mul(0x8DA6_B343)
        ^ (y as u32).wrapping_mul(0xD816_3841)
        ^ (z as u32).wrapping_mul(0xCB1A_B31F);
    unit(mix(hash))
}

fn unit(hash: u32) -> f32 {
    (hash >> 8) as f32 / 16_777_216.0
}

fn mix(mut h: u32) -> u32 {
    h = (h ^ (h >> 16)).wrapping_mul(0x85EB_CA6B);
    h = (h ^ (h >> 13)).wrapping_mul(0xC2B2_AE35);
    h ^ (h >> 16)
}
