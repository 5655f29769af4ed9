//! Chance that is the same in every run with the same seed.

/// A generator by Marsaglia's xorshift, mixed at the start so that neighbouring seeds have nothing in common.
#[derive(Debug, Clone)]
pub struct Random(u64);

impl Random {
    pub fn new(seed: u64) -> Self {
        let mut mixed = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        Self((mixed ^ (mixed >> 31)) | 1)
    }

    /// 0 to 1.
    pub fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn chance(&mut self, of: f64) -> bool {
        self.share() < of
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Log-uniform.
    pub fn decades(&mut self, low: f64, high: f64) -> f64 {
        low * (high / low).powf(self.share())
    }

    /// Normal, by Box and Muller.
    pub fn normal(&mut self) -> f64 {
        let radius = (-2.0 * self.share().max(1e-300).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.share()).cos()
    }

    /// Gamma with scale 1, by Marsaglia and Tsang (2000).
    pub fn gamma(&mut self, shape: f64) -> f64 {
        if shape < 1.0 {
            return self.gamma(shape + 1.0) * self.share().max(1e-300).powf(1.0 / shape);
        }
        let d = shape - 1.0 / 3.0;
        loop {
            let x = self.normal();
            let v = (1.0 + x / (9.0 * d).sqrt()).powi(3);
            if v > 0.0 && self.share().max(1e-300).ln() < 0.5 * x * x + d * (1.0 - v + v.ln()) {
                return d * v;
            }
        }
    }

    pub fn pick<'t, T>(&mut self, list: &'t [T]) -> Option<&'t T> {
        list.get((self.share() * list.len() as f64) as usize)
    }

    /// Place of one entry, drawn by weight.
    pub fn weighted(&mut self, weights: &[f64]) -> usize {
        let mut left = self.share() * weights.iter().sum::<f64>();
        for (i, weight) in weights.iter().enumerate() {
            left -= weight;
            if left < 0.0 {
                return i;
            }
        }
        weights.len().saturating_sub(1)
    }
}
