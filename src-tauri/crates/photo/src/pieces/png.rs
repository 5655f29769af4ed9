//! The chunks of a PNG (W3C PNG, third edition).

use super::{Beside, Piece, picture};
use crate::structure::png_chunk;
use std::borrow::Cow;

/// Pixels, animation, and what makes colors, transparency and shape come out right.
const PICTURE: [&[u8]; 19] = [
    b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"cHRM", b"gAMA", b"iCCP", b"sBIT", b"sRGB", b"cICP",
    b"mDCV", b"cLLI", b"bKGD", b"hIST", b"pHYs", b"acTL", b"fcTL", b"fdAT",
];
const SIGNATURE: usize = 8;

pub(super) fn pieces(bytes: &[u8]) -> Option<Vec<Piece<'_>>> {
    let (signature, mut rest) = bytes.split_at_checked(SIGNATURE)?;
    let mut pieces = vec![picture(signature)];
    loop {
        let (name, after) = png_chunk(rest)?;
        let chunk = rest.get(..rest.len().checked_sub(after.len())?)?;
        let data = chunk.get(8..chunk.len().checked_sub(4)?)?;
        let is_picture = PICTURE.contains(&name);
        pieces.push(if is_picture { picture(chunk) } else { Piece::Beside(beside(name, data)) });
        rest = after;
        if name == b"IEND" {
            break;
        }
    }
    if !rest.is_empty() {
        pieces.push(Piece::Beside(Beside::Appended));
    }
    Some(pieces)
}

fn beside<'a>(name: &[u8], data: &'a [u8]) -> Beside<'a> {
    match name {
        b"eXIf" => Beside::Exif(data),
        b"tIME" => Beside::Date,
        b"tEXt" | b"zTXt" | b"iTXt" => text(data),
        _ => Beside::Other,
    }
}

/// A text by its keyword: the standard's own, Adobe's for XMP, and those of ImageMagick's raw profiles.
fn text(data: &[u8]) -> Beside<'_> {
    let keyword = data.split(|byte| *byte == 0).next().unwrap_or_default();
    match keyword {
        b"XML:com.adobe.xmp" => Beside::Xmp(data),
        b"Raw profile type iptc" | b"Raw profile type 8bim" => Beside::Iptc,
        b"Raw profile type xmp" => Beside::Xmp(data),
        b"Author" | b"Copyright" => Beside::Person,
        b"Software" | b"Source" => Beside::Device,
        b"Creation Time" => Beside::Date,
        keyword if keyword.starts_with(b"Raw profile") => Beside::Other,
        _ => Beside::Text,
    }
}

/// The orientation stands right after the header.
pub(super) fn joined(picture: Vec<Cow<'_, [u8]>>, turned: Option<&[u8]>) -> Option<Vec<u8>> {
    let (before, after) = picture.split_at_checked(2)?;
    let mut bytes = before.concat();
    if let Some(block) = turned {
        bytes.extend(u32::try_from(block.len()).ok()?.to_be_bytes());
        let named = [b"eXIf", block].concat();
        bytes.extend(&named);
        bytes.extend(crc32fast::hash(&named).to_be_bytes());
    }
    bytes.extend(after.concat());
    Some(bytes)
}
