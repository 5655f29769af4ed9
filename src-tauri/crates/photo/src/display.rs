//! The number on a meter's display, read from its photo, with a probability that means what it says.
//!
//! Two small networks do it: a locator finds the cells of the main row and looks a second time from nearer, a recognizer
//! reads straightened cuts. How sure the reading is comes from all alignments that say the same, over several cuts; wider
//! cuts show whether the row goes on. Nothing here decides anything: a reading is a proposal.
//!
//! The networks were trained on invented pictures alone; `display/networks/CARD.md` says how and what was measured.

mod alignments;
pub mod cut;
mod grammar;
mod locate;
mod networks;
pub mod plane;
mod weigh;

pub use alignments::{Scores, best_strings, log_probability};
pub use grammar::{Said, said};
pub use weigh::{Evidence, terms};

use crate::exif_fields::ExifFields;
use crate::{PhotoError, pixels, structure};
use cut::{CUT, Framing, Pyramid};
use image::RgbImage;
use locate::Found;
use plane::{Point, Projection};
use weigh::Row;

/// A picture is made this small before it is read, in pixels of its longer side, unless it is smaller.
const SIDE: u32 = 1600;
/// How far the row is taken beyond its ends when a wider cut shows more, in digit heights.
const GROW: f32 = 0.9;

/// What a photo's display was read as.
#[derive(Debug, Clone, PartialEq)]
pub struct DisplayReading {
    /// As the display writes it: `-0.001`, `039.5`, `OL`; none when no number was found or none can be told.
    pub value: Option<String>,
    /// Probability that `value` is what the display shows, 0 to 1; 0 without a value.
    pub confidence: f64,
    /// Corners of the row's cells in pixels of the upright photo: upper left, upper right, lower right, lower left as
    /// the row is read. None when no row was found.
    pub corners: Option<[Point; 4]>,
    /// Two rows of about the same size were found: the value is the larger's, and the confidence is held down.
    pub two_rows: bool,
    /// The display stands on its head in the photo.
    pub upside_down: bool,
    /// The row comes within half a digit of the picture's edge: a digit may have been cut off.
    pub at_edge: bool,
}

/// Reads the display in a photo's bytes.
///
/// # Errors
/// As [`crate::preview`]; and [`PhotoError::Reader`] when the networks can't be run on this device.
pub fn read_display(bytes: &[u8]) -> Result<DisplayReading, PhotoError> {
    read_with_evidence(bytes).map(|(reading, _)| reading)
}

/// The same with what the confidence was made of, for calibrating it.
///
/// # Errors
/// As [`read_display`].
pub fn read_with_evidence(bytes: &[u8]) -> Result<(DisplayReading, Evidence), PhotoError> {
    let (picture, shrunk) = upright(bytes)?;
    let pyramid = Pyramid::new(picture);
    let Some(first) = locate::main_row(&pyramid)? else { return Ok((nothing(), Evidence::default())) };
    let (found, Some(seen)) = likeliest(&pyramid, first)? else {
        return Ok((nothing(), Evidence::default()));
    };
    let seen = beyond(&pyramid, seen)?;
    let two_rows = found.two_rows || another_row(&pyramid, seen.corners)?;
    let evidence = Evidence { two_rows, ..seen.evidence };
    let at_edge = near_edge(seen.corners, pyramid.size());
    let confidence = if seen.value.is_some() { weigh::confidence(&evidence) } else { 0.0 };
    let corners = seen.corners.map(|(x, y)| (x * shrunk, y * shrunk));
    let reading = DisplayReading {
        value: seen.value,
        confidence,
        corners: Some(corners),
        two_rows,
        upside_down: seen.upside_down,
        at_edge,
    };
    Ok((reading, evidence))
}

fn nothing() -> DisplayReading {
    DisplayReading {
        value: None,
        confidence: 0.0,
        corners: None,
        two_rows: false,
        upside_down: false,
        at_edge: false,
    }
}

/// Width of a digit's cell in digit heights, as meters' displays have it.
const DIGIT: f32 = 0.6;

/// Whether a corner of the row lies within half a digit of the picture's edge, or beyond it.
fn near_edge(corners: [Point; 4], (wide, high): (u32, u32)) -> bool {
    let [upper, _, _, lower] = corners;
    let half = 0.5 * DIGIT * (upper.0 - lower.0).hypot(upper.1 - lower.1);
    let inside = |at: f32, side: u32| at >= half && at <= side as f32 - half;
    !corners.iter().all(|(x, y)| inside(*x, wide) && inside(*y, high))
}

/// The picture as it is looked at, and how many pixels of the whole one of its pixels stands for.
fn upright(bytes: &[u8]) -> Result<(RgbImage, f32), PhotoError> {
    let kind = structure::kind(bytes)?;
    let stored = structure::pixel_size(bytes, kind)?.unwrap_or((1, 1));
    let decoded = pixels::decode(bytes, kind, SIDE)?;
    let side = decoded.width().max(decoded.height());
    let small = if side > 2 * SIDE { decoded.thumbnail(SIDE, SIDE) } else { decoded };
    let side = small.width().max(small.height()).max(1);
    let shrunk = stored.0.max(stored.1) as f32 / side as f32;
    Ok((ExifFields::of(bytes).orientation.apply(small).into_rgb8(), shrunk))
}

/// A row read so surely needs no other opinion of where it ends.
const SURE: f64 = 0.9;
/// Opinions of the look from nearer that are tried around the first look's likeliest row, and around each other one.
const AROUND_LIKELIEST: usize = 3;
const AROUND_OTHERS: usize = 2;

/// Reads the row as each opinion has it, from nearer first, until one is read surely; the surest reading counts. Each
/// look from nearer takes as long as all reading, so it is made when it is its turn.
fn likeliest(pyramid: &Pyramid, mut found: Found) -> Result<(Found, Option<Read>), PhotoError> {
    let mut best: Option<Read> = None;
    for (at, opinion) in found.corners.clone().into_iter().enumerate() {
        let Some(nearer) = locate::nearer_look(pyramid, opinion)? else { continue };
        if at == 0 {
            found.share = nearer.share;
            found.two_rows |= nearer.two_rows;
        }
        let tried = if at == 0 { AROUND_LIKELIEST } else { AROUND_OTHERS };
        if surest(pyramid, nearer.corners.iter().take(tried), &mut best)? {
            return Ok((found, best));
        }
    }
    surest(pyramid, found.corners.iter(), &mut best)?;
    Ok((found, best))
}

/// Reads rows into `best` until one is sure, and says whether one is.
fn surest<'a>(
    pyramid: &Pyramid,
    rows: impl Iterator<Item = &'a [Point; 4]>,
    best: &mut Option<Read>,
) -> Result<bool, PhotoError> {
    for corners in rows {
        let read = read_row(pyramid, *corners)?;
        if best.as_ref().is_none_or(|best| read.evidence.mean > best.evidence.mean) {
            *best = Some(read);
        }
        if best.as_ref().is_some_and(|best| best.evidence.mean > SURE) {
            return Ok(true);
        }
    }
    Ok(false)
}

struct Read {
    value: Option<String>,
    corners: [Point; 4],
    upside_down: bool,
    evidence: Evidence,
}

/// Reads a row; turns it when it stands on its head, and takes it further where a wider cut shows more of it.
fn read_row(pyramid: &Pyramid, mut corners: [Point; 4]) -> Result<Read, PhotoError> {
    let mut row = look(pyramid, corners)?;
    let mut upside_down = false;
    if row.upside_down() > 0.5 {
        let mut turned = corners;
        turned.rotate_left(2);
        let again = look(pyramid, turned)?;
        if again.upside_down() < 0.5 {
            (corners, row, upside_down) = (turned, again, true);
        }
    }
    for _ in 0..2 {
        let Some(sides) = row.longer() else { break };
        let wider = grown(corners, sides, GROW);
        let again = look(pyramid, wider)?;
        let (said, likely) = again.best();
        let is_value = matches!(said, Said::Value(_));
        if !is_value && matches!(row.best().0, Said::Value(_)) || likely < 0.5 * row.best().1 {
            break;
        }
        (corners, row) = (wider, again);
    }
    let (value, evidence) = row.evidence();
    Ok(Read { value, corners, upside_down, evidence })
}

/// How far a sign may stand apart from the digits, in digit heights: meters keep the minus in a cell of its own, some cells
/// before a short number.
const APART: f32 = 2.4;

/// Takes the row further where a cut that reaches far shows more of the number.
fn beyond(pyramid: &Pyramid, seen: Read) -> Result<Read, PhotoError> {
    let Some(value) = seen.value.clone() else { return Ok(seen) };
    let plain = Framing::PLAIN;
    let framings =
        [Framing { before: plain.before + APART, ..plain }, Framing { after: plain.after + APART, ..plain }];
    let cuts: Vec<Vec<u8>> =
        framings.iter().map(|framing| pyramid.cut(&framing.map(seen.corners), CUT)).collect();
    let scores = networks::recognize(&cuts)?;
    let shows =
        |at: usize, before: bool| scores.get(at).is_some_and(|cut| weigh::shows_more(cut, &value, before));
    let sides = (shows(0, true), shows(1, false));
    if !(sides.0 || sides.1) {
        return Ok(seen);
    }
    let wider = read_row(pyramid, grown(seen.corners, sides, APART))?;
    let is_more =
        |more: &String| more.len() > value.len() && (more.ends_with(&value) || more.starts_with(&value));
    if wider.value.as_ref().is_some_and(is_more) {
        return Ok(Read { upside_down: seen.upside_down != wider.upside_down, ..wider });
    }
    // Something stands there that can't be read: the number is no surer than that cut makes it.
    let evidence = Evidence { mean: seen.evidence.mean.min(0.5), ..seen.evidence };
    Ok(Read { evidence, ..seen })
}

/// From one row to the next of the same size, in digit heights: displays leave a third of a digit between.
const NEXT_ROW: f32 = 1.3;

/// Whether a number of the same size stands above or below the row: the locator now and then takes only one of two.
fn another_row(pyramid: &Pyramid, corners: [Point; 4]) -> Result<bool, PhotoError> {
    let at = |down: f32| Framing { shift: (0.0, down), ..Framing::PLAIN };
    let cuts: Vec<Vec<u8>> =
        [-NEXT_ROW, NEXT_ROW].iter().map(|down| pyramid.cut(&at(*down).map(corners), CUT)).collect();
    Ok(networks::recognize(&cuts)?.iter().any(weigh::is_number))
}

/// Four plain cuts, then one that reaches further before the row and one that reaches further after it.
fn look(pyramid: &Pyramid, corners: [Point; 4]) -> Result<Row, PhotoError> {
    let plain = Framing::PLAIN;
    let framings = [
        plain,
        Framing { zoom: 0.94, shift: (0.0, 0.02), ..plain },
        Framing { zoom: 1.05, shift: (0.1, -0.02), ..plain },
        Framing { zoom: 1.0, shift: (-0.1, 0.0), ..plain },
        Framing { before: plain.before + GROW, ..plain },
        Framing { after: plain.after + GROW, ..plain },
    ];
    let cuts: Vec<Vec<u8>> = framings.iter().map(|framing| pyramid.cut(&framing.map(corners), CUT)).collect();
    networks::recognize(&cuts).map(Row::new)
}

/// The row taken `further` digit heights before (`sides.0`) or after (`sides.1`) it.
fn grown(corners: [Point; 4], sides: (bool, bool), further: f32) -> [Point; 4] {
    let across = cut::width_in_heights(corners);
    let more = |wanted: bool| if wanted { further / across } else { 0.0 };
    let (left, right) = (-more(sides.0), 1.0 + more(sides.1));
    let map = Projection::of_square(corners);
    [(left, 0.0), (right, 0.0), (right, 1.0), (left, 1.0)].map(|corner| map.apply(corner))
}
