//! The marker segments of a JPEG (ITU-T T.81 annex B): pixel size, wholeness, and where metadata lies.

/// One step through a JPEG.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Step<'a> {
    /// A marker's second byte and what its length field covers.
    Segment { marker: u8, payload: &'a [u8] },
    /// The end-of-image marker.
    End,
    /// The bytes stop inside a segment or inside the pixels.
    Cut,
}

/// Steps through the main picture; stops at its end, so a preview or video appended after it is not seen.
pub(crate) struct Segments<'a> {
    rest: &'a [u8],
    done: bool,
}

impl<'a> Segments<'a> {
    pub(crate) fn of(bytes: &'a [u8]) -> Self {
        Self { rest: bytes, done: false }
    }

    fn step(&mut self) -> Option<Step<'a>> {
        let at = next_marker(self.rest)?;
        let marker = *self.rest.get(at.checked_add(1)?)?;
        self.rest = self.rest.get(at.checked_add(2)?..)?;
        match marker {
            0xD9 => Some(Step::End),
            0xD8 | 0x01 => Some(Step::Segment { marker, payload: &[] }),
            _ => {
                let length = usize::from(u16::from_be_bytes(self.rest.get(..2)?.try_into().ok()?));
                let payload = self.rest.get(2..length)?;
                self.rest = self.rest.get(length..)?;
                Some(Step::Segment { marker, payload })
            }
        }
    }
}

impl<'a> Iterator for Segments<'a> {
    type Item = Step<'a>;

    fn next(&mut self) -> Option<Step<'a>> {
        if self.done {
            return None;
        }
        let step = self.step().unwrap_or(Step::Cut);
        self.done = !matches!(step, Step::Segment { .. });
        Some(step)
    }
}

/// True if the end-of-image marker of the main picture is there.
pub(crate) fn is_whole(bytes: &[u8]) -> bool {
    Segments::of(bytes).last() == Some(Step::End)
}

/// Width and height of the first frame header.
pub(crate) fn pixel_size(bytes: &[u8]) -> Option<(u32, u32)> {
    let frame = Segments::of(bytes).find_map(|step| match step {
        // SOF0..SOF15 without DHT (C4), JPG (C8) and DAC (CC), which share the range.
        Step::Segment { marker: 0xC0..=0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF, payload } => {
            Some(payload)
        }
        _ => None,
    })?;
    let field = |at: usize| frame.get(at..at + 2)?.try_into().ok().map(u16::from_be_bytes);
    Some((u32::from(field(3)?), u32::from(field(1)?)))
}

/// Place of the next marker: FF and a byte that is neither stuffing (00), fill (FF) nor a restart (D0 to D7).
pub(crate) fn next_marker(bytes: &[u8]) -> Option<usize> {
    let mut at = 0;
    loop {
        at += memchr::memchr(0xFF, bytes.get(at..)?)?;
        match bytes.get(at + 1)? {
            0x00 | 0xFF | 0xD0..=0xD7 => at += 1,
            _ => return Some(at),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Hand-made after T.81: SOI, SOF0 of 3 × 2 pixels, SOS, pixels with stuffing and a restart, EOI.
    const TINY: &[u8] = b"\xFF\xD8\xFF\xC0\x00\x0B\x08\x00\x02\x00\x03\x01\x01\x11\x00\
        \xFF\xDA\x00\x08\x01\x01\x00\x00\x3F\x00\x12\xFF\x00\x34\xFF\xD0\x56\xFF\xD9";

    #[test]
    fn walks_to_the_end() {
        assert_eq!(pixel_size(TINY), Some((3, 2)));
        assert!(is_whole(TINY));
        assert!(is_whole(&[TINY, b"appended"].concat()));
        for cut in 0..TINY.len() {
            assert!(!is_whole(&TINY[..cut]), "{cut} bytes");
        }
    }
}
