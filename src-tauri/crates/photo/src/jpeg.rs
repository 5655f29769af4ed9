//! JPEGs (ITU-T T.81) straight to any size from one to eight eighths, with the memory that size needs.
//!
//! The transform is taken of as many coefficients as pixels are wanted. A picture of twelve megapixels for the screen is never
//! held whole, and neither are the coefficients of a progressive one. What is missing at the end of a picture that was cut off
//! is gray. Baseline, extended and progressive Huffman coding, 8 and 12 bits, one, three and four channels.

mod baseline;
mod bits;
mod header;
mod inverse;
mod planes;
mod progressive;
mod scan;

use crate::jpeg_segments::next_marker;
use baseline::Baseline;
use header::{Frame, ScanHeader, Tables};
use inverse::Inverse;
use planes::{Colors, Plane, Rows};
use progressive::{Held, Progressive};

/// Most scans that are read. Progressive pictures have about ten; a file of thousands of empty ones would keep a phone busy
/// for hours.
const MOST_SCANS: usize = 100;

/// Why nothing is shown of a JPEG.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Unshown {
    /// A form that hardly a camera writes: lossless, arithmetic coding, other numbers of channels.
    Rare,
    /// Its inside makes no sense.
    Damaged(&'static str),
}

/// A decoded picture, its channels still apart.
pub(crate) struct Decoded {
    planes: Vec<Plane>,
    colors: Colors,
    size: (usize, usize),
    extent: (u64, u64),
}

impl Decoded {
    /// Width and height at the scale it was decoded to.
    pub(crate) fn size(&self) -> (usize, usize) {
        self.size
    }

    /// How much of it the picture fills, in eighths of a pixel: its last pixels may lie half beyond its edge.
    pub(crate) fn extent(&self) -> (u64, u64) {
        self.extent
    }

    /// Hands out the rows from above, in red, green and blue.
    pub(crate) fn rows(&self, mut take: impl FnMut(&[u8])) {
        let (width, height) = self.size;
        let mut rows = Rows::new(&self.planes, self.colors, width);
        let mut row = vec![0; width * 3];
        for y in 0..height {
            rows.row(y, &mut row);
            take(&row);
        }
    }
}

/// Says whether the frame is of a form that is decoded here, without decoding it.
pub(crate) fn is_rare(bytes: &[u8]) -> bool {
    let mut file = File::new(bytes);
    while let Some((marker, payload)) = file.segment() {
        if is_frame(marker) {
            return Frame::read(marker, payload).is_err_and(|why| why == Unshown::Rare);
        }
    }
    false
}

/// Decodes to `side` eighths, 1 to 8.
pub(crate) fn decode(bytes: &[u8], side: usize) -> Result<Decoded, Unshown> {
    let mut file = File::new(bytes);
    let mut tables = Tables::default();
    let mut picture: Option<Picture> = None;
    let mut scans = 0;
    while let Some((marker, payload)) = file.segment() {
        match marker {
            marker if is_frame(marker) && picture.is_none() => {
                picture = Some(Picture::new(Frame::read(marker, payload)?, side));
            }
            0xDA if scans < MOST_SCANS => {
                let picture = picture.as_mut().ok_or(Unshown::Damaged("its pixels come before its size"))?;
                let Some(end) = picture.scan(bytes, file.at, payload, &tables) else { break };
                file.at = end;
                scans += 1;
            }
            0xD9 | 0xDA => break,
            _ => {
                // A damaged table leaves the pictures before it as they are.
                if tables.read(marker, payload).is_none() {
                    break;
                }
            }
        }
    }
    if scans == 0 {
        return Err(Unshown::Damaged("no pixels could be read"));
    }
    let picture = picture.ok_or(Unshown::Damaged("it does not say its size"))?;
    Ok(picture.drawn(tables.adobe))
}

/// A frame header's marker: SOF0 to SOF15 without DHT (C4), JPG (C8) and DAC (CC), which share the range.
fn is_frame(marker: u8) -> bool {
    matches!(marker, 0xC0..=0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF)
}

struct File<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> File<'a> {
    fn new(bytes: &'a [u8]) -> Self {
        Self { bytes, at: 0 }
    }

    /// The next marker with its payload; the place is behind it then.
    fn segment(&mut self) -> Option<(u8, &'a [u8])> {
        let start = self.at.checked_add(next_marker(self.bytes.get(self.at..)?)?)?;
        let marker = *self.bytes.get(start + 1)?;
        let rest = self.bytes.get(start + 2..)?;
        self.at = start + 2;
        if matches!(marker, 0xD8 | 0xD9 | 0x01) {
            return Some((marker, &[]));
        }
        let length = usize::from(u16::from_be_bytes(*rest.first_chunk::<2>()?));
        let payload = rest.get(2..length)?;
        self.at += length;
        Some((marker, payload))
    }
}

struct Picture {
    frame: Frame,
    inverse: Inverse,
    planes: Vec<Plane>,
    held: Vec<Held>,
}

impl Picture {
    fn new(frame: Frame, side: usize) -> Self {
        let side = side.clamp(1, 8);
        let planes = frame.channels.iter().map(|channel| Plane::new(&frame, channel, side)).collect();
        let held = if frame.progressive {
            frame.channels.iter().map(|channel| Held::new(channel, side)).collect()
        } else {
            Vec::new()
        };
        Self { inverse: Inverse::new(side, frame.precision), frame, planes, held }
    }

    /// Reads the scan whose bits begin at a place. Where they end; none where nothing can be read after it.
    fn scan(&mut self, bytes: &[u8], at: usize, payload: &[u8], tables: &Tables) -> Option<usize> {
        let header = ScanHeader::read(payload, &self.frame)?;
        let (frame, inverse) = (&self.frame, &self.inverse);
        let (end, _) = if frame.progressive {
            let mut blocks = Progressive::new(frame, &header, tables, inverse, &mut self.held)?;
            scan::over(bytes, at, frame, &header, tables, &mut blocks)
        } else {
            let mut blocks = Baseline::new(frame, &header, tables, inverse, &mut self.planes)?;
            scan::over(bytes, at, frame, &header, tables, &mut blocks)
        };
        Some(end)
    }

    fn drawn(mut self, adobe: Option<u8>) -> Decoded {
        for (held, plane) in self.held.iter().zip(&mut self.planes) {
            held.draw(&self.inverse, plane);
        }
        let side = self.inverse.side();
        let extent = |pixels: usize| pixels as u64 * side as u64;
        Decoded {
            colors: Colors::of(&self.frame, adobe),
            planes: self.planes,
            size: planes::scaled(&self.frame, side),
            extent: (extent(self.frame.width), extent(self.frame.height)),
        }
    }
}
