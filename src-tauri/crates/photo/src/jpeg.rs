//! JPEGs (ITU-T T.81), decoded no larger than needed.
//!
//! `jpeg-decoder` gives a half, a quarter or an eighth straight from the coefficients. What it doesn't read (inks, pictures that
//! were cut off) the decoder behind `image` reads whole: what is missing is gray there.

use crate::jpeg_segments::{Segments, Step};
use crate::pixels::MAX_DECODE_BYTES;
use image::{DynamicImage, GrayImage, RgbImage};
use jpeg_decoder::{Decoder, PixelFormat};
use std::io::Cursor;

/// Most scans that are read. Progressive pictures have about ten; a file of thousands of empty ones would keep a phone busy
/// for hours.
const MOST_SCANS: usize = 100;

/// Says whether it is of a form that hardly a camera writes and that isn't decoded: lossless, arithmetic coding, other than
/// eight bits, scans without end.
pub(crate) fn is_rare(bytes: &[u8]) -> bool {
    let mut scans = 0_usize;
    let mut frame = None;
    for step in Segments::of(bytes) {
        match step {
            Step::Segment {
                marker: marker @ (0xC0..=0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF),
                payload,
            } => {
                // The first byte of a frame's header is its precision (T.81, B.2.2).
                frame = frame.or(Some(matches!(marker, 0xC0..=0xC2) && payload.first() == Some(&8)));
            }
            Step::Segment { marker: 0xDA, .. } => scans += 1,
            _ => {}
        }
    }
    frame == Some(false) || scans > MOST_SCANS
}

/// Decodes to at least so many eighths, 1 to 8, where the form allows it; else `None`.
pub(crate) fn scaled(bytes: &[u8], (width, height): (u32, u32), eighths: usize) -> Option<DynamicImage> {
    if says_colors_itself(bytes) {
        return None;
    }
    let mut decoder = Decoder::new(Cursor::new(bytes));
    decoder.set_max_decoding_buffer_size(usize::try_from(MAX_DECODE_BYTES).ok()?);
    decoder.read_info().ok()?;
    let share = |side: u32| {
        let wanted = (u64::from(side) * eighths as u64).div_ceil(8).max(1);
        u16::try_from(wanted).unwrap_or(u16::MAX)
    };
    let (width, height) = decoder.scale(share(width), share(height)).ok()?;
    let (width, height) = (u32::from(width), u32::from(height));
    let samples = decoder.decode().ok()?;
    match decoder.info()?.pixel_format {
        PixelFormat::L8 => GrayImage::from_raw(width, height, samples).map(Into::into),
        PixelFormat::RGB24 => RgbImage::from_raw(width, height, samples).map(Into::into),
        PixelFormat::L16 | PixelFormat::CMYK32 => None,
    }
}

/// Adobe's segment says that the colors are red, green and blue as they are, which `jpeg-decoder` doesn't follow.
fn says_colors_itself(bytes: &[u8]) -> bool {
    Segments::of(bytes).any(|step| match step {
        Step::Segment { marker: 0xEE, payload } => {
            payload.starts_with(b"Adobe") && payload.get(11) == Some(&0)
        }
        _ => false,
    })
}
