//! Repeatable chance: the same seed invents the same picture.

/// A counter-based generator (the finalizer of SplitMix64, public domain).
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    /// Starts at a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(mix(seed ^ 0x51A7_3C0D_9E37_79B9))
    }
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        mix(self.0)
    }
    /// From 0 up to 1.
    pub fn share(&mut self) -> f32 {
        (self.next() >> 40) as f32 / 16_777_216.0
    }
    /// Evenly between two numbers.
    pub fn between(&mut self, low: f32, high: f32) -> f32 {
        low + (high - low) * self.share()
    }
    /// Evenly in the logarithm, for sizes.
    pub fn scale(&mut self, low: f32, high: f32) -> f32 {
        self.between(low.ln(), high.ln()).exp()
    }
    /// About normal with mean 0 and deviation 1 (sum of four).
    pub fn normal(&mut self) -> f32 {
        (self.share() + self.share() + self.share() + self.share() - 2.0) * 1.732
    }
    /// True in `share` of the cases.
    pub fn yes(&mut self, share: f32) -> bool {
        self.share() < share
    }
    /// A whole number from 0 up to but not `count`.
    pub fn below(&mut self, count: usize) -> usize {
        ((self.share() * count as f32) as usize).min(count.saturating_sub(1))
    }
    /// One of the choices.
    pub fn pick<T: Copy>(&mut self, choices: &[T], otherwise: T) -> T {
        choices.get(self.below(choices.len())).copied().unwrap_or(otherwise)
    }
    /// A seed of its own for a part of the picture.
    pub fn seed(&mut self) -> u32 {
        (self.next() >> 32) as u32
    }
}

fn mix(mut h: u64) -> u64 {
    h = (h ^ (h >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    h = (h ^ (h >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    h ^ (h >> 31)
}

/// From 0 to 1, the same for the same place.
#[must_use]
pub fn lattice(x: i32, y: i32, seed: u32) -> f32 {
    let mut h = (x as u32).wrapping_mul(0x8DA6_B343) ^ (y as u32).wrapping_mul(0xD816_3841) ^ seed;
    h = (h ^ (h >> 16)).wrapping_mul(0x85EB_CA6B);
    h = (h ^ (h >> 13)).wrapping_mul(0xC2B2_AE35);
    ((h ^ (h >> 16)) >> 8) as f32 / 16_777_216.0
}

/// Smooth noise from 0 to 1 with features one unit wide.
#[must_use]
pub fn noise(x: f32, y: f32, seed: u32) -> f32 {
    let (bx, by) = (x.floor(), y.floor());
    let ease = |t: f32| t * t * (3.0 - 2.0 * t);
    let (fx, fy) = (ease(x - bx), ease(y - by));
    let (cell_x, cell_y) = (bx as i32, by as i32);
    let row = |cell_y: i32| {
        let (left, right) = (lattice(cell_x, cell_y, seed), lattice(cell_x + 1, cell_y, seed));
        left + (right - left) * fx
    };
    let (top, bottom) = (row(cell_y), row(cell_y + 1));
    top + (bottom - top) * fy
}
