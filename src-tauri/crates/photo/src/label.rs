//! Text in the bar codes of labels: a vehicle's VIN, a part's number.
//!
//! The picture is looked at in many ways, the likeliest first (whole, larger, cut out, turned, sharpened), until a text is
//! found that the caller takes: what makes a VIN or a part number isn't known here. Symbols by the standards ISO/IEC 16388
//! (Code 39), 15417 (Code 128), 16022 (Data Matrix) and 18004 (QR Code); the decoder is `rxing`, pure Rust.

mod decode;
mod look;

use crate::display::plane::Point;
use crate::exif_fields::ExifFields;
use crate::{PhotoError, pixels, structure};
use decode::Threshold;
use image::GrayImage;
use look::{Gray, Look, Treatment};

/// A picture is made this small before it is looked at, in pixels of its longer side, unless it is smaller.
const SIDE: u32 = 2000;

/// Sort of bar code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Symbology {
    /// Code 39, the usual one on labels in doors.
    Code39,
    /// Code 128.
    Code128,
    /// Data Matrix.
    DataMatrix,
    /// QR Code.
    Qr,
}

impl Symbology {
    /// For files and screens: `code_39`, `code_128`, `data_matrix`, `qr`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Code39 => "code_39",
            Self::Code128 => "code_128",
            Self::DataMatrix => "data_matrix",
            Self::Qr => "qr",
        }
    }
}

/// A bar code that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// Its text.
    pub text: String,
    /// Sort of bar code.
    pub symbology: Symbology,
    /// Where it was found, in pixels of the upright picture: the two ends of a line across the bars, or corners of a square
    /// symbol; of a Code 39 its beginning alone. Places where something was found, not the label's edge.
    pub corners: Vec<Point>,
}

/// How long to look.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Effort {
    /// One of many frames of a camera, with its number: the likeliest looks, and some of the others in turn.
    Frame(u32),
    /// A photo that somebody took.
    Photo,
}

/// Looks that every frame gets, and how many of the others in turn.
const FRAME: (usize, usize) = (2, 3);

/// One way to look.
#[derive(Clone, Copy)]
struct Rung {
    look: Look,
    treatment: Treatment,
    threshold: Threshold,
}

const fn rung(side: f32, turn: f32, share: f32, treatment: Treatment, threshold: Threshold) -> Rung {
    Rung { look: Look { side, turn, share, center: (0.5, 0.5) }, treatment, threshold }
}

const fn part(center: (f32, f32), treatment: Treatment) -> Rung {
    let look = Look { side: 1400.0, turn: 0.0, share: 0.55, center };
    Rung { look, treatment, threshold: Threshold::Local }
}

/// From the likeliest to the last: in a test with damaged labels each of them reads some that none before it does.
const LADDER: [Rung; 23] = [
    rung(900.0, 0.0, 1.0, Treatment::Plain, Threshold::Local),
    rung(1600.0, 0.0, 1.0, Treatment::Plain, Threshold::Local),
    rung(1200.0, 0.0, 0.6, Treatment::Stretched, Threshold::Local),
    rung(900.0, 0.0, 1.0, Treatment::Stretched, Threshold::Global),
    rung(1200.0, 0.0, 1.0, Treatment::Even, Threshold::Local),
    rung(1200.0, 12.0, 1.0, Treatment::Plain, Threshold::Local),
    rung(1200.0, -12.0, 1.0, Treatment::Plain, Threshold::Local),
    rung(1600.0, 0.0, 1.0, Treatment::Sharp, Threshold::Local),
    rung(1200.0, 0.0, 1.0, Treatment::Smooth, Threshold::Local),
    rung(1200.0, 25.0, 1.0, Treatment::Plain, Threshold::Local),
    rung(1200.0, -25.0, 1.0, Treatment::Plain, Threshold::Local),
    rung(1200.0, 45.0, 1.0, Treatment::Plain, Threshold::Local),
    rung(1200.0, -40.0, 1.0, Treatment::Plain, Threshold::Local),
    part((0.3, 0.3), Treatment::Stretched),
    part((0.7, 0.3), Treatment::Stretched),
    part((0.3, 0.7), Treatment::Stretched),
    part((0.7, 0.7), Treatment::Stretched),
    rung(2000.0, 0.0, 0.6, Treatment::Sharp, Threshold::Global),
    rung(1400.0, 6.0, 0.8, Treatment::Sharp, Threshold::Local),
    rung(1400.0, -6.0, 0.8, Treatment::Sharp, Threshold::Local),
    rung(1800.0, 0.0, 0.4, Treatment::Stretched, Threshold::Global),
    rung(600.0, 0.0, 1.0, Treatment::Smooth, Threshold::Local),
    rung(450.0, 0.0, 1.0, Treatment::Plain, Threshold::Local),
];

/// Reads the first bar code whose text `wanted` takes.
///
/// # Errors
/// As [`crate::preview`]. A picture without such a bar code is no error.
pub fn read_label(
    bytes: &[u8],
    effort: Effort,
    wanted: &dyn Fn(&str) -> bool,
) -> Result<Option<Label>, PhotoError> {
    let kind = structure::kind(bytes)?;
    let stored = structure::pixel_size(bytes, kind)?.unwrap_or((1, 1));
    let decoded = pixels::decode(bytes, kind, SIDE)?;
    let side = decoded.width().max(decoded.height());
    let small = if side > SIDE + SIDE / 4 { decoded.thumbnail(SIDE, SIDE) } else { decoded };
    let picture = ExifFields::of(bytes).orientation.apply(small).into_luma8();
    let shrunk = stored.0.max(stored.1) as f32 / picture.width().max(picture.height()).max(1) as f32;
    let label = in_picture(picture, effort, wanted);
    Ok(label.map(|label| Label {
        corners: label.corners.iter().map(|(x, y)| (x * shrunk, y * shrunk)).collect(),
        ..label
    }))
}

fn is_tried(place: usize, effort: Effort) -> bool {
    let Effort::Frame(number) = effort else { return true };
    let (always, some) = FRAME;
    let turns = (LADDER.len() - always).div_ceil(some);
    place < always || (place - always) / some == number as usize % turns
}

fn in_picture(picture: GrayImage, effort: Effort, wanted: &dyn Fn(&str) -> bool) -> Option<Label> {
    let gray = Gray::new(picture);
    let tried = LADDER.iter().enumerate().filter(|(place, _)| is_tried(*place, effort));
    tried.into_iter().find_map(|(place, rung)| {
        let seen = gray.look(&rung.look, rung.treatment)?;
        // Light on dark is rare and takes as long again: it is tried from the third look on.
        let found = decode::first(&seen.pixels, rung.threshold, place >= 2)?;
        let corners = found.points.into_iter().map(|at| seen.back(at)).collect();
        wanted(&found.text).then_some(Label { text: found.text, symbology: found.symbology, corners })
    })
}
