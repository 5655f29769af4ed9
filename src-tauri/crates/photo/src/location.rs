//! Positions outside EXIF: XMP (ISO 16684-1) may repeat them as text.

use crate::Kind;
use crate::jpeg_segments::{Segments, Step};

/// True if XMP text names a latitude. Compressed XMP and a video appended to the picture are not searched.
pub(crate) fn in_xmp(bytes: &[u8], kind: Kind) -> bool {
    if kind != Kind::Jpeg {
        return names_latitude(bytes);
    }
    Segments::of(bytes).any(|step| match step {
        Step::Segment { marker: 0xE1, payload } => payload.starts_with(b"http") && names_latitude(payload),
        _ => false,
    })
}

fn names_latitude(bytes: &[u8]) -> bool {
    const NAME: &[u8] = b"GPSLatitude";
    bytes.windows(NAME.len()).any(|window| window == NAME)
}
