//! Just enough of the HEIF box structure (ISO/IEC 14496-12, 23008-12): brands, pixel size, wholeness.

use crate::heif_extents;

/// HEVC image brands of ISO/IEC 23008-12 annex B; the sequence brands are left to video.
const HEVC_BRANDS: [&[u8]; 4] = [b"heic", b"heix", b"heim", b"heis"];
const AV1_BRANDS: [&[u8]; 2] = [b"avif", b"avis"];

/// True if the first box is `ftyp` with an HEVC image brand, or generic `mif1` with no sign of AV1.
pub(crate) fn is_hevc_image(bytes: &[u8]) -> bool {
    let Some(Item::Box { name: b"ftyp", body }) = Boxes(bytes).next() else { return false };
    // Major brand, then a minor version that is no brand, then the compatible brands.
    let mut brands =
        body.chunks_exact(4).enumerate().filter(|(index, _)| *index != 1).map(|(_, brand)| brand);
    let major = brands.next().unwrap_or_default();
    let others: Vec<&[u8]> = brands.collect();
    let says = |names: &[&[u8]]| names.contains(&major) || others.iter().any(|brand| names.contains(brand));
    !AV1_BRANDS.contains(&major) && (says(&HEVC_BRANDS) || (major == b"mif1" && !says(&AV1_BRANDS)))
}

/// True if the boxes fill the bytes to the end and all data that the picture's description points to is there.
///
/// Both are needed: a file cut exactly between two boxes still has whole boxes.
pub(crate) fn is_whole(bytes: &[u8]) -> bool {
    let boxes_fit = Boxes(bytes).all(|item| !matches!(item, Item::Cut));
    let locations = child(bytes, b"meta").and_then(|meta| child(meta.get(4..)?, b"iloc"));
    let needed = locations.and_then(heif_extents::furthest);
    boxes_fit && needed.is_some_and(|end| end <= bytes.len() as u64)
}

/// Width and height of the largest picture described (a grid's whole is larger than its tiles).
pub(crate) fn pixel_size(bytes: &[u8]) -> Option<(u32, u32)> {
    let meta = child(bytes, b"meta")?.get(4..)?;
    let properties = child(child(meta, b"iprp")?, b"ipco")?;
    Boxes(properties).filter_map(extent).max_by_key(|(width, height)| u64::from(*width) * u64::from(*height))
}

fn extent(item: Item<'_>) -> Option<(u32, u32)> {
    match item {
        Item::Box { name: b"ispe", body } => Some((big_endian(body, 4)?, big_endian(body, 8)?)),
        _ => None,
    }
}

fn child<'a>(bytes: &'a [u8], wanted: &[u8; 4]) -> Option<&'a [u8]> {
    Boxes(bytes).find_map(|item| match item {
        Item::Box { name, body } if name == wanted => Some(body),
        _ => None,
    })
}

fn big_endian(bytes: &[u8], at: usize) -> Option<u32> {
    bytes.get(at..at.checked_add(4)?)?.try_into().ok().map(u32::from_be_bytes)
}

enum Item<'a> {
    Box { name: &'a [u8; 4], body: &'a [u8] },
    Cut,
}

/// Walks boxes side by side; ends after the first that does not fit.
struct Boxes<'a>(&'a [u8]);

impl<'a> Boxes<'a> {
    /// One box and what follows it. A size of 1 means 64 bits follow the name, 0 means "to the end".
    fn split(bytes: &'a [u8]) -> Option<(&'a [u8; 4], &'a [u8], &'a [u8])> {
        let name: &[u8; 4] = bytes.get(4..8)?.try_into().ok()?;
        let (head, size) = match big_endian(bytes, 0)? {
            0 => (8, bytes.len()),
            1 => (16, usize::try_from(u64::from_be_bytes(bytes.get(8..16)?.try_into().ok()?)).ok()?),
            size => (8, usize::try_from(size).ok()?),
        };
        Some((name, bytes.get(head..size)?, bytes.get(size..)?))
    }
}

impl<'a> Iterator for Boxes<'a> {
    type Item = Item<'a>;

    fn next(&mut self) -> Option<Item<'a>> {
        if self.0.is_empty() {
            return None;
        }
        let Some((name, body, rest)) = Self::split(self.0) else {
            self.0 = &[];
            return Some(Item::Cut);
        };
        self.0 = rest;
        Some(Item::Box { name, body })
    }
}
