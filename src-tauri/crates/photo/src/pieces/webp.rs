//! The chunks of a WebP (RFC 9649).

use super::{Beside, Piece, picture};
use std::borrow::Cow;

/// Flags of a `VP8X` chunk: metadata that the file says it holds.
const HAS_EXIF: u8 = 0x08;
const HAS_XMP: u8 = 0x04;
/// `RIFF`, size, `WEBP`.
const HEAD: usize = 12;

pub(super) fn pieces(bytes: &[u8]) -> Option<Vec<Piece<'_>>> {
    let size = usize::try_from(u32::from_le_bytes(bytes.get(4..8)?.try_into().ok()?)).ok()?;
    let (whole, behind) = bytes.split_at_checked(size.checked_add(8)?)?;
    let (head, mut rest) = whole.split_at_checked(HEAD)?;
    let mut pieces = vec![picture(head)];
    while !rest.is_empty() {
        let (name, chunk, after) = chunk(rest)?;
        pieces.push(piece(name, chunk));
        rest = after;
    }
    if !behind.is_empty() {
        pieces.push(Piece::Beside(Beside::Appended));
    }
    Some(pieces)
}

/// A chunk with its padding; that of the last one may be missing.
fn chunk(bytes: &[u8]) -> Option<(&[u8], &[u8], &[u8])> {
    let length = usize::try_from(u32::from_le_bytes(bytes.get(4..8)?.try_into().ok()?)).ok()?;
    let end = length.checked_add(8)?;
    let padded = end.checked_add(length % 2)?.min(bytes.len());
    bytes.get(8..end)?;
    let (chunk, after) = bytes.split_at_checked(padded)?;
    Some((chunk.get(..4)?, chunk, after))
}

fn piece<'a>(name: &[u8], chunk: &'a [u8]) -> Piece<'a> {
    let data = chunk.get(8..).unwrap_or_default();
    match name {
        b"VP8 " | b"VP8L" | b"ALPH" | b"ICCP" | b"ANIM" | b"ANMF" => picture(chunk),
        b"VP8X" => {
            let mut bare = chunk.to_vec();
            bare.iter_mut().skip(8).take(1).for_each(|flags| *flags &= !(HAS_EXIF | HAS_XMP));
            Piece::Picture(Cow::Owned(bare))
        }
        // Some writers put JPEG's name of the block before it.
        b"EXIF" => Piece::Beside(Beside::Exif(data.strip_prefix(b"Exif\0\0").unwrap_or(data))),
        b"XMP " => Piece::Beside(Beside::Xmp(data)),
        _ => Piece::Beside(Beside::Other),
    }
}

/// Metadata stands at the end; the header's size is what is left.
pub(super) fn joined(picture: Vec<Cow<'_, [u8]>>, turned: Option<&[u8]>) -> Option<Vec<u8>> {
    let mut bytes = picture.concat();
    if let Some(block) = turned {
        // Only a file with an extended header could say it before, and it says so there again.
        if bytes.get(HEAD..HEAD.checked_add(4)?)? != b"VP8X" {
            return None;
        }
        bytes.iter_mut().skip(HEAD.checked_add(8)?).take(1).for_each(|flags| *flags |= HAS_EXIF);
        bytes.extend(b"EXIF");
        bytes.extend(u32::try_from(block.len()).ok()?.to_le_bytes());
        bytes.extend(block);
    }
    let size = u32::try_from(bytes.len().checked_sub(8)?).ok()?.to_le_bytes();
    bytes.iter_mut().skip(4).zip(size).for_each(|(byte, new)| *byte = new);
    Some(bytes)
}
