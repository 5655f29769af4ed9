//! The segments of a JPEG (ITU-T T.81 annex B; JFIF 1.02; Adobe's and the ICC's application segments).

use super::{Beside, Piece, picture};
use crate::jpeg_segments::next_marker;
use std::borrow::Cow;

const JFIF: &[u8] = b"JFIF\0";
/// Length of a JFIF header without a small picture: version, density, and two sides of zero.
const JFIF_BYTES: usize = 14;
const XMP: [&[u8]; 2] = [b"http://ns.adobe.com/xap/1.0/\0", b"http://ns.adobe.com/xmp/extension/\0"];
/// Photoshop's number of a block of IPTC fields.
const IPTC: &[u8] = b"8BIM\x04\x04";

pub(super) fn pieces(bytes: &[u8]) -> Option<Vec<Piece<'_>>> {
    let mut rest = bytes.strip_prefix(&[0xFF, 0xD8])?;
    let mut pieces = vec![picture(bytes.get(..2)?)];
    loop {
        let at = next_marker(rest)?;
        if rest.get(..at)?.iter().any(|byte| *byte != 0xFF) {
            pieces.push(Piece::Beside(Beside::Other));
        }
        rest = rest.get(at..)?;
        let marker = *rest.get(1)?;
        match marker {
            0xD9 => break,
            0x01 => rest = rest.get(2..)?,
            _ => {
                let length = usize::from(u16::from_be_bytes(rest.get(2..4)?.try_into().ok()?));
                let (segment, after) = rest.split_at_checked(length.checked_add(2)?)?;
                segmented(&mut pieces, marker, segment, segment.get(4..)?);
                rest = after;
                if marker == 0xDA {
                    let (scan, after) = rest.split_at_checked(next_marker(rest)?)?;
                    pieces.push(picture(scan));
                    rest = after;
                }
            }
        }
    }
    let (end, behind) = rest.split_at_checked(2)?;
    pieces.push(picture(end));
    if !behind.is_empty() {
        pieces.push(Piece::Beside(Beside::Appended));
    }
    Some(pieces)
}

fn segmented<'a>(pieces: &mut Vec<Piece<'a>>, marker: u8, segment: &'a [u8], payload: &'a [u8]) {
    match marker {
        // Frames, tables, scans; and what makes colors come out right: the ICC profile and Adobe's flag.
        0xC0..=0xCF | 0xDA..=0xDF => pieces.push(picture(segment)),
        0xE2 if payload.starts_with(b"ICC_PROFILE\0") => pieces.push(picture(segment)),
        0xEE if payload.starts_with(b"Adobe") => pieces.push(picture(segment)),
        0xE0 if payload.starts_with(JFIF) => jfif(pieces, segment, payload),
        _ => pieces.push(Piece::Beside(beside(marker, payload))),
    }
}

/// A JFIF header may hold a small picture: the header stays, with sides of zero.
fn jfif<'a>(pieces: &mut Vec<Piece<'a>>, segment: &'a [u8], payload: &'a [u8]) {
    match payload.get(..JFIF_BYTES) {
        Some(header) if payload.len() > JFIF_BYTES => {
            let mut bare = b"\xFF\xE0\0\x10".to_vec();
            bare.extend(header.iter().take(JFIF_BYTES.saturating_sub(2)));
            bare.extend([0, 0]);
            pieces.push(Piece::Picture(Cow::Owned(bare)));
            pieces.push(Piece::Beside(Beside::Thumbnail));
        }
        _ => pieces.push(picture(segment)),
    }
}

fn beside(marker: u8, payload: &[u8]) -> Beside<'_> {
    match marker {
        0xE0 if payload.starts_with(b"JFXX\0") => Beside::Thumbnail,
        0xE1 if payload.starts_with(b"Exif\0") => Beside::Exif(payload.get(6..).unwrap_or_default()),
        0xE1 => {
            let text = XMP.iter().find_map(|name| payload.strip_prefix(*name));
            text.map_or(Beside::Other, Beside::Xmp)
        }
        0xED if payload.windows(IPTC.len()).any(|window| window == IPTC) => Beside::Iptc,
        0xFE => Beside::Text,
        _ => Beside::Other,
    }
}

/// EXIF stands before everything but a JFIF header, where readers look for it.
pub(super) fn joined(picture: Vec<Cow<'_, [u8]>>, turned: Option<&[u8]>) -> Option<Vec<u8>> {
    let has_jfif = picture.get(1).and_then(|piece| piece.get(4..)).is_some_and(|rest| rest.starts_with(JFIF));
    let head = if has_jfif { 2 } else { 1 };
    let (before, after) = picture.split_at_checked(head)?;
    let mut bytes = before.concat();
    if let Some(block) = turned {
        bytes.extend(b"\xFF\xE1");
        bytes.extend(u16::try_from(block.len().checked_add(8)?).ok()?.to_be_bytes());
        bytes.extend(b"Exif\0\0");
        bytes.extend(block);
    }
    bytes.extend(after.concat());
    Some(bytes)
}
