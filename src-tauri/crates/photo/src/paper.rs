//! The text on a receipt, quote or bill: lines of it, each with its place and a probability.
//!
//! Two networks of others read it (decision 50). They aren't part of the program: whoever has them hands their bytes over,
//! and without them nothing here can be asked.

mod boxes;
mod networks;
mod rows;

use crate::display::cut::Pyramid;
use crate::display::plane::{Point, Projection};
use crate::exif_fields::ExifFields;
use crate::{PhotoError, pixels, structure};
use boxes::Box4;
pub use networks::PaperModels;

/// A picture is made this small before its text is cut out, in pixels of its longer side: 12 megapixels become 5.
const SIDE: u32 = 2600;
/// And this small before text is looked for, unless it is smaller.
const LOOK: u32 = 1120;
/// Most pieces of text that are read.
const MOST: usize = 300;
/// Height of what the recognizer looks at, in pixels.
const HIGH: usize = 48;
/// Most width of it.
const WIDEST: usize = 1920;
/// Pieces that say which way up the paper lies.
const ASKED: usize = 3;
/// Letters read as surely as this, on average, lie the right way up.
const PLAIN: f64 = 0.9;

/// A piece of text that stands together.
#[derive(Debug, Clone, PartialEq)]
pub struct PaperPiece {
    /// What it says; never empty.
    pub text: String,
    /// Probability of the likeliest way to read every letter of it, from 0 to 1.
    pub probability: f64,
    /// Corners in pixels of the upright picture, around from the upper left of the text as it is read.
    pub corners: [Point; 4],
}

/// Pieces that stand beside one another, from left to right.
#[derive(Debug, Clone, PartialEq)]
pub struct PaperRow {
    /// At least one.
    pub pieces: Vec<PaperPiece>,
}

impl PaperRow {
    /// The pieces' texts, two spaces between them.
    #[must_use]
    pub fn text(&self) -> String {
        self.pieces.iter().map(|piece| piece.text.as_str()).collect::<Vec<_>>().join("  ")
    }

    /// Probability that every piece is read right, were they independent.
    #[must_use]
    pub fn probability(&self) -> f64 {
        self.pieces.iter().map(|piece| piece.probability).product()
    }
}

/// Reads the rows of text in a photo, from the top down, whichever way up the paper lies.
///
/// # Errors
/// As [`crate::preview`], and [`PhotoError::Paper`] when a network can't be run. A picture without text is no error.
pub fn read_paper(bytes: &[u8], models: &PaperModels) -> Result<Vec<PaperRow>, PhotoError> {
    let kind = structure::whole_kind(bytes)?;
    let stored = structure::pixel_size(bytes, kind)?.unwrap_or((1, 1));
    let decoded = pixels::decode(bytes, kind, SIDE)?;
    let side = decoded.width().max(decoded.height());
    let small = if side > SIDE + SIDE / 4 { decoded.thumbnail(SIDE, SIDE) } else { decoded };
    let picture = ExifFields::of(bytes).orientation.apply(small).into_rgb8();
    let shrunk = stored.0.max(stored.1) as f32 / picture.width().max(picture.height()).max(1) as f32;
    let pyramid = Pyramid::new(picture);
    let found = upright(find(&pyramid, models)?, &pyramid, models)?;
    let mut pieces = Vec::new();
    for corners in found {
        let (text, probability) = read(&pyramid, corners, models)?;
        if !text.is_empty() {
            pieces.push(PaperPiece { text, probability, corners });
        }
    }
    let mut rows = rows::of(pieces);
    let places =
        rows.iter_mut().flat_map(|row| row.pieces.iter_mut()).flat_map(|piece| piece.corners.iter_mut());
    places.for_each(|(x, y)| (*x, *y) = (*x * shrunk, *y * shrunk));
    Ok(rows)
}

/// Where text stands, in pixels of the pyramid's largest picture, the likeliest first.
fn find(pyramid: &Pyramid, models: &PaperModels) -> Result<Vec<Box4>, PhotoError> {
    let (wide, high) = pyramid.size();
    let share = (LOOK as f32 / wide.max(high).max(1) as f32).min(1.0);
    // The network halves its picture five times.
    let even = |length: u32| ((length as f32 * share / 32.0).round() as usize).max(1) * 32;
    let size = (even(wide), even(high));
    let stretch = (wide as f32 / size.0 as f32, high as f32 / size.1 as f32);
    let look = pyramid.cut(&Projection::stretch(stretch.0, stretch.1, 0.0, 0.0), size);
    let map = models.find(&look, size)?;
    let mut found = boxes::of_map(&map, size);
    found.truncate(MOST);
    Ok(found.into_iter().map(|corners| corners.map(|(x, y)| (x * stretch.0, y * stretch.1))).collect())
}

/// The same corners, begun where each text begins: most pieces are wider than high, and upside down they read badly.
fn upright(found: Vec<Box4>, pyramid: &Pyramid, models: &PaperModels) -> Result<Vec<Box4>, PhotoError> {
    let tall = found.iter().filter(|corners| boxes::height(corners) > 1.5 * boxes::width(corners)).count();
    let wide = found.iter().filter(|corners| boxes::width(corners) > 1.5 * boxes::height(corners)).count();
    let first = usize::from(tall > wide);
    let mut asked: Vec<&Box4> = found.iter().collect();
    asked.sort_by(|a, b| boxes::longer(b).total_cmp(&boxes::longer(a)));
    asked.truncate(ASKED);
    let surely = |begin| {
        let read = |corners: &&Box4| Ok(likelihood(read(pyramid, begun(**corners, begin), models)?));
        asked.iter().map(read).sum::<Result<f64, PhotoError>>()
    };
    let as_it_is = surely(first)?;
    let is_plain = as_it_is > PLAIN * asked.len() as f64;
    let begin = if is_plain || as_it_is >= surely(first + 2)? { first } else { first + 2 };
    Ok(found.into_iter().map(|corners| begun(corners, begin)).collect())
}

fn begun(mut corners: Box4, by: usize) -> Box4 {
    corners.rotate_left(by % 4);
    corners
}

/// How surely each letter was read, on average; so that a long text counts as much as a short one.
fn likelihood((text, probability): (String, f64)) -> f64 {
    let letters = text.chars().count();
    if letters == 0 { 0.0 } else { probability.max(1e-30).powf(1.0 / letters as f64) }
}

fn read(pyramid: &Pyramid, corners: Box4, models: &PaperModels) -> Result<(String, f64), PhotoError> {
    let across = boxes::width(&corners) / boxes::height(&corners).max(1.0);
    let wide = ((HIGH as f32 * across).ceil() as usize).clamp(HIGH / 3, WIDEST);
    let to_square = Projection::stretch(1.0 / wide as f32, 1.0 / HIGH as f32, 0.0, 0.0);
    let cut = pyramid.cut(&to_square.then(&Projection::of_square(corners)), (wide, HIGH));
    models.read(&cut, (wide, HIGH))
}
