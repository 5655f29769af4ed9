//! Repeatable chance: splitmix64 (Steele, Lea, Flood 2014), so that a seed gives the same job on every machine.

/// A stream of random numbers.
#[derive(Debug, Clone)]
pub struct Dice {
    state: u64,
}

impl Dice {
    pub const fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    /// A stream that depends on a name as well: the same part of the same circuit gets the same odds in all jobs.
    pub fn named(name: &str, salt: u64) -> Self {
        let mixed = name.bytes().fold(0xcbf2_9ce4_8422_2325_u64 ^ salt, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        });
        Self::new(mixed)
    }

    pub const fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 up to 1, without 1.
    #[allow(clippy::cast_precision_loss, reason = "53 bits fit a double")]
    pub const fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / 9_007_199_254_740_992.0
    }

    pub const fn chance(&mut self, probability: f64) -> bool {
        self.unit() < probability
    }

    pub const fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Evenly spread on a log scale.
    pub fn log_between(&mut self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp()
    }

    /// Normal, mean 0, deviation 1 (Box–Muller).
    pub fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.unit()).cos()
    }

    /// A factor around 1 whose logarithm is normal.
    pub fn factor(&mut self, deviation: f64) -> f64 {
        (self.normal() * deviation).exp()
    }

    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_precision_loss,
        clippy::cast_sign_loss,
        reason = "small"
    )]
    pub fn index(&mut self, count: usize) -> usize {
        ((self.unit() * count as f64) as usize).min(count.saturating_sub(1))
    }

    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> Option<&'a T> {
        let index = self.index(from.len());
        from.get(index)
    }

    /// One of these by weight.
    pub fn weighted<'a, T>(&mut self, from: &'a [(f64, T)]) -> Option<&'a T> {
        let total: f64 = from.iter().map(|(weight, _)| weight).sum();
        let mut left = self.unit() * total;
        for (weight, item) in from {
            left -= weight;
            if left < 0.0 {
                return Some(item);
            }
        }
        from.last().map(|(_, item)| item)
    }
}
