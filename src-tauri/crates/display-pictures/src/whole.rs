//! Whole photos with what is to be read in them, for measuring.

use crate::chance::Chance;
use crate::lens;
use crate::panel::{self, Wish};
use crate::sample;
use crate::scene::{Scene, Stand};

/// A photo as a file, and what it shows.
#[derive(Debug)]
pub struct Whole {
    /// JPEG.
    pub file: Vec<u8>,
    /// The number as the display writes it; none when no number can be read in it.
    pub value: Option<String>,
    /// The same even where parts of it are covered or hardly to be seen; none for words, dark displays and two equal rows.
    pub says: Option<String>,
    /// Corners of the cells in pixels, upper left first.
    pub corners: Option<[(f32, f32); 4]>,
}

/// Size of the photos in pixels.
pub const SIZE: (usize, usize) = (960, 720);

/// Invents one photo. `easy` keeps glare, covers and edges away from the number.
#[must_use]
pub fn photo(seed: u64, held_back: bool, easy: bool) -> Option<Whole> {
    let chance = &mut Chance::new(seed);
    let tall = chance.scale(28.0, 150.0);
    let panel = panel::invent(
        chance,
        Wish { scale: tall.min(110.0), held_back, words: !easy, bare: false, shell: 3.0 },
    );
    let (wide, high) = (SIZE.0 as f32, SIZE.1 as f32);
    let row = panel.field.unwrap_or([0.0, 0.0, 3.0, 1.0]);
    let tall = tall.min(wide * 0.8 / (row[2] - row[0] + 0.5));
    let half = ((row[2] - row[0]) * tall * 0.55).min(wide * 0.45);
    let middle = (chance.between(half, wide - half), chance.between(tall, high - tall));
    let hardship = if easy { 0.35 } else { 1.0 };
    let roll = chance.normal() * 7.0;
    let stand = Stand { size: (wide, high), tall, middle, roll, hardship };
    let scene = Scene::new(panel, stand, chance);
    let pixels = scene.picture(0, 0, SIZE.0, SIZE.1, chance);
    let file = lens::jpeg(&pixels, SIZE, 90)?;
    let corners = scene.panel.field.map(|row| sample::corners_of(&scene, row));
    let shown = scene.panel.field.is_some() && scene.panel.second.is_none();
    let says = scene.panel.said.value.clone().filter(|_| shown);
    Some(Whole { file, value: sample::truth(&scene), says, corners })
}
