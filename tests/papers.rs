//! Invented papers of suppliers, set by an outside program and photographed by arithmetic, with what stands on them.
//!
//! Debian's ImageMagick sets them in the DejaVu typefaces; the camera is in `camera`.
#![allow(clippy::expect_used, clippy::panic)] // A check without its outside program must fail loudly.

mod camera;
mod invented;
mod typeset;

pub use camera::Wear;
use std::path::PathBuf;

/// What stands on a paper.
#[derive(Clone, Debug)]
pub struct Truth {
    /// Region whose way to write amounts and dates it follows.
    pub region: &'static str,
    pub supplier: String,
    /// `YYYY-MM-DD`.
    pub day: String,
    pub number: String,
    pub lines: Vec<Item>,
    /// In minor units, as all amounts.
    pub tax: Option<i64>,
    pub total: i64,
}

/// One line of it.
#[derive(Clone, Debug)]
pub struct Item {
    pub description: String,
    pub part_number: String,
    pub quantity: i64,
    pub amount: i64,
    pub is_core: bool,
}

impl Truth {
    /// Sum of the core charges; `None` where there are none.
    pub fn core(&self) -> Option<i64> {
        let sum: i64 = self.lines.iter().filter(|line| line.is_core).map(|line| line.amount).sum();
        (sum != 0).then_some(sum)
    }
}

/// A photographed paper.
pub struct Paper {
    pub truth: Truth,
    pub wear: Wear,
    /// JPEG.
    pub bytes: Vec<u8>,
}

/// Width and height of an upright photo in pixels: as a phone takes it after scaling down, and for quick checks.
pub const PHONE: (u32, u32) = (2100, 2800);
/// See [`PHONE`].
pub const SMALL: (u32, u32) = (1050, 1400);

/// The worn paper of a seed: the same at each run.
pub fn paper(seed: u64, size: (u32, u32)) -> Paper {
    let mut chance = Chance::of(seed);
    let (truth, sheet) = invented::paper(&mut chance, seed);
    let wear = Wear::of(&mut chance, sheet.thermal);
    let bytes = camera::photographed(&typeset::set(&sheet), &wear, size, &mut chance);
    Paper { truth, wear, bytes }
}

/// Where the networks lie: `cargo xtask models` puts them there. `None` where they aren't.
pub fn models() -> Option<PathBuf> {
    let target = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../target");
    let folder = target.join("models/paper");
    ["finder.onnx", "reader.onnx"].iter().all(|name| folder.join(name).is_file()).then_some(folder)
}

/// Numbers that look random and are the same at each run (SplitMix64, Steele and others, 2014).
pub struct Chance(u64);

impl Chance {
    pub fn of(seed: u64) -> Self {
        // Without a first step through the mill, each seed's numbers would be its neighbor's, one later.
        let mut chance = Self(seed);
        Self(chance.next())
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 up to 1.
    pub fn share(&mut self) -> f32 {
        (self.next() >> 40) as f32 / (1_u64 << 24) as f32
    }

    /// Between two numbers.
    pub fn between(&mut self, least: f32, most: f32) -> f32 {
        least + (most - least) * self.share()
    }

    /// A whole number below another.
    pub fn below(&mut self, end: u64) -> u64 {
        self.next() % end.max(1)
    }

    /// One of some.
    pub fn one<T: Copy>(&mut self, of: &[T]) -> T {
        let at = self.below(of.len() as u64) as usize;
        *of.get(at).expect("there is one")
    }
}
