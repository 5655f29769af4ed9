//! Small pictures for the page: which ones, and that they carry nothing but the picture.

use super::wording::photos_in_order;
use crate::FindingsInput;
use evidence::Digest;
use job::Job;
use std::collections::BTreeMap;
use typst::foundations::Bytes;
use typst::visualize::{ExchangeFormat, RasterImage};

/// Why a photo has no picture on the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum LeftOut {
    /// There is no small picture, or it can't be decoded.
    NotAtHand,
    /// It carries metadata: it might tell a place.
    Unclean,
    /// The file would get too big.
    TooMuch,
}

/// Pictures by photo.
pub(crate) struct Pictures {
    shown: BTreeMap<Digest, Vec<u8>>,
    left_out: BTreeMap<Digest, LeftOut>,
}

impl Pictures {
    /// Takes pictures until the allowed bytes are used, those that come first in `order` first.
    pub fn of(input: &FindingsInput, order: Vec<Digest>, mut room: usize) -> Pictures {
        let mut pictures = Pictures { shown: BTreeMap::new(), left_out: BTreeMap::new() };
        for photo in order {
            if pictures.shown.contains_key(&photo) || pictures.left_out.contains_key(&photo) {
                continue;
            }
            match usable((input.picture)(&photo), room) {
                Ok(bytes) => {
                    room = room.saturating_sub(bytes.len());
                    pictures.shown.insert(photo, bytes);
                }
                Err(reason) => {
                    pictures.left_out.insert(photo, reason);
                }
            }
        }
        pictures
    }

    /// Path of the picture in the template's world.
    pub fn path(&self, photo: &Digest) -> Option<String> {
        self.shown.contains_key(photo).then(|| path(photo))
    }

    /// Why there is none.
    pub fn left_out(&self, photo: &Digest) -> Option<LeftOut> {
        self.left_out.get(photo).copied()
    }

    /// What the pictures weigh together.
    pub fn bytes(&self) -> usize {
        self.shown.values().map(Vec::len).sum()
    }

    /// All pictures by path.
    pub fn files(&self) -> BTreeMap<String, Vec<u8>> {
        self.shown.iter().map(|(photo, bytes)| (path(photo), bytes.clone())).collect()
    }
}

fn path(photo: &Digest) -> String {
    format!("{photo}.jpg")
}

/// Photos of the proof, then of the readings the finding rests on, then the others in their order.
pub(crate) fn all(job: &Job) -> Vec<Digest> {
    let proof = job.proofs.iter().rev().flat_map(|kept| [kept.event.before, kept.event.after]);
    let rests_on = job.findings.last().map_or_else(Vec::new, |kept| kept.event.readings.clone());
    let readings = proof.chain(rests_on).filter_map(|record| job.reading(&record));
    let mut photos: Vec<Digest> = readings.flat_map(|r| r.reading.photos.clone()).collect();
    photos.extend(photos_in_order(job));
    photos
}

/// In the order given, but those that look like one before them come last. A difference hash tells: 64 bits, each whether a
/// pixel of the picture shrunk to 9 by 8 gray ones is darker than its right neighbor.
pub(crate) fn look_alikes_last(input: &FindingsInput, order: Vec<Digest>) -> Vec<Digest> {
    let mut seen: Vec<u64> = Vec::new();
    let (mut first, mut last) = (Vec::new(), Vec::new());
    for photo in order {
        let hash = (input.picture)(&photo).and_then(difference_hash);
        let alike = hash.is_some_and(|hash| seen.iter().any(|other| (hash ^ other).count_ones() <= ALIKE));
        seen.extend(hash);
        if alike { last.push(photo) } else { first.push(photo) }
    }
    first.into_iter().chain(last).collect()
}

/// Bits in which two pictures of the same thing may differ (judgment).
const ALIKE: u32 = 6;

fn difference_hash(jpeg: Vec<u8>) -> Option<u64> {
    let picture = RasterImage::plain(Bytes::new(jpeg), ExchangeFormat::Jpg).ok()?;
    let small = picture.dynamic().thumbnail_exact(9, 8).to_luma8();
    let bits = small.rows().flat_map(|row| {
        let row: Vec<u8> = row.map(|pixel| pixel.0[0]).collect();
        row.windows(2).map(|pair| u64::from(pair.first() < pair.last())).collect::<Vec<_>>()
    });
    Some(bits.fold(0, |hash, bit| (hash << 1) | bit))
}

fn usable(picture: Option<Vec<u8>>, room: usize) -> Result<Vec<u8>, LeftOut> {
    let bytes = picture.ok_or(LeftOut::NotAtHand)?;
    if carries_metadata(&bytes).ok_or(LeftOut::NotAtHand)? {
        return Err(LeftOut::Unclean);
    }
    if bytes.len() > room {
        return Err(LeftOut::TooMuch);
    }
    // One damaged picture must not cost the customer the whole report, so it is decoded before Typst sees it.
    let decoded = RasterImage::plain(Bytes::new(bytes.clone()), ExchangeFormat::Jpg);
    decoded.map(|_| bytes).map_err(|_| LeftOut::NotAtHand)
}

/// Whether a JPEG has a segment that can tell about place, camera or maker: any application segment but JFIF (0), the
/// colour profile (2) and Adobe's colour flag (14), or a comment. `None` if it isn't a JPEG (ITU-T T.81 annex B).
fn carries_metadata(jpeg: &[u8]) -> Option<bool> {
    let mut rest = jpeg.strip_prefix(&[0xff, 0xd8])?;
    loop {
        let [0xff, marker, high, low, tail @ ..] = rest else { return None };
        let length = usize::from(u16::from_be_bytes([*high, *low]));
        let body = tail.get(..length.checked_sub(2)?)?;
        match marker {
            0xda => return Some(false),
            0xe0 if body.starts_with(b"JFIF\0") => {}
            0xe2 if body.starts_with(b"ICC_PROFILE\0") => {}
            0xee if body.starts_with(b"Adobe") => {}
            0xe0..=0xef | 0xfe => return Some(true),
            _ => {}
        }
        rest = tail.get(body.len()..)?;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn jpeg(segment: &[u8]) -> Vec<u8> {
        [&[0xff, 0xd8][..], segment, &[0xff, 0xda, 0, 2]].concat()
    }

    #[test]
    fn segments_that_tell_more_than_the_picture_are_seen() {
        assert_eq!(carries_metadata(&jpeg(b"\xff\xe0\0\x07JFIF\0")), Some(false));
        assert_eq!(carries_metadata(&jpeg(b"\xff\xe1\0\x08Exif\0\0")), Some(true));
        assert_eq!(carries_metadata(&jpeg(b"\xff\xe0\0\x07JFXX\0")), Some(true));
        assert_eq!(carries_metadata(&jpeg(b"\xff\xed\0\x04PS")), Some(true));
        assert_eq!(carries_metadata(&jpeg(b"\xff\xfe\0\x04hi")), Some(true));
        assert_eq!(carries_metadata(b"\x89PNG"), None);
        assert_eq!(carries_metadata(&[0xff, 0xd8, 0xff, 0xe1, 0xff, 0xff]), None);
    }
}
