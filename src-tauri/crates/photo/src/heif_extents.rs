//! Where a HEIF file says its pictures' data lie (the item location box, ISO/IEC 14496-12, 8.11.3).

/// The furthest byte in the file that any item needs; `None` if the box makes no sense.
pub(crate) fn furthest(iloc: &[u8]) -> Option<u64> {
    let mut from = Cursor(iloc);
    let version = from.number(1)?;
    from.number(3)?;
    let (sizes, more) = (from.number(1)?, from.number(1)?);
    let wide = if version < 2 { 2 } else { 4 };
    let layout =
        Layout { version, offset: sizes >> 4, length: sizes & 15, base: more >> 4, index: more & 15, wide };
    let items = from.number(wide)?;
    let mut end = 0;
    for _ in 0..items {
        end = end.max(item_end(&mut from, &layout)?);
    }
    Some(end)
}

/// Widths of the box's fields in bytes.
struct Layout {
    version: u64,
    offset: u64,
    length: u64,
    base: u64,
    index: u64,
    wide: u64,
}

/// The end of one item's last extent; 0 if it lies inside another box and not in the file itself.
fn item_end(from: &mut Cursor<'_>, layout: &Layout) -> Option<u64> {
    from.number(layout.wide)?;
    let in_file = layout.version == 0 || from.number(2)? & 15 == 0;
    from.number(2)?;
    let base = from.number(layout.base)?;
    let extents = from.number(2)?;
    let mut end = 0;
    // Extents that take no bytes would be counted for hours in a file of a few megabytes: they say nothing, once is enough.
    let empty = layout.offset + layout.length + if layout.version > 0 { layout.index } else { 0 } == 0;
    let extents = if empty { extents.min(1) } else { extents };
    for _ in 0..extents {
        if layout.version > 0 {
            from.number(layout.index)?;
        }
        let (offset, length) = (from.number(layout.offset)?, from.number(layout.length)?);
        end = end.max(base.checked_add(offset)?.checked_add(length)?);
    }
    Some(if in_file { end } else { 0 })
}

struct Cursor<'a>(&'a [u8]);

impl Cursor<'_> {
    /// The next `width` bytes (0 to 8) as one big-endian number.
    fn number(&mut self, width: u64) -> Option<u64> {
        let (head, rest) =
            self.0.split_at_checked(usize::try_from(width).ok().filter(|width| *width <= 8)?)?;
        self.0 = rest;
        Some(head.iter().fold(0, |number, byte| number << 8 | u64::from(*byte)))
    }
}

#[cfg(test)]
mod tests {
    use super::furthest;

    /// Hand-made after the standard: version 0, four-byte offsets and lengths, no base; two items.
    const TWO: &[u8] = b"\0\0\0\0\x44\0\0\x02\
        \0\x01\0\0\0\x01\0\0\x01\x00\0\0\0\x20\
        \0\x02\0\0\0\x01\0\0\x02\x00\0\0\0\x10";

    #[test]
    fn the_last_extent_counts() {
        assert_eq!(furthest(TWO), Some(0x210));
        for cut in 0..TWO.len() {
            assert_eq!(furthest(&TWO[..cut]), None, "{cut} bytes");
        }
    }
}
