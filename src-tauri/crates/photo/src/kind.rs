//! The kind of a picture, told by its first bytes and never by its name.

use crate::heif_boxes;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A kind of picture file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// ITU-T T.81: starts with the SOI marker FF D8 and a further marker.
    Jpeg,
    /// W3C PNG: the eight signature bytes.
    Png,
    /// RFC 9649: `RIFF`, a size, `WEBP`.
    Webp,
    /// ISO/IEC 23008-12: a `ftyp` box with an HEVC image brand (or the generic HEIF brand without AV1).
    Heic,
    /// Anything else, AVIF, TIFF and video included.
    Unknown,
}

impl Kind {
    /// Looks at the first bytes (at most the first box of a HEIF file).
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        if bytes.starts_with(&[0xFF, 0xD8, 0xFF]) {
            Self::Jpeg
        } else if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
            Self::Png
        } else if bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP".as_slice()) {
            Self::Webp
        } else if heif_boxes::is_hevc_image(bytes) {
            Self::Heic
        } else {
            Self::Unknown
        }
    }

    /// The registered media type; `application/octet-stream` for [`Kind::Unknown`].
    #[must_use]
    pub fn media_type(self) -> &'static str {
        match self {
            Self::Jpeg => "image/jpeg",
            Self::Png => "image/png",
            Self::Webp => "image/webp",
            Self::Heic => "image/heic",
            Self::Unknown => "application/octet-stream",
        }
    }

    /// The usual ending of a file of this kind, without a dot.
    #[must_use]
    pub fn extension(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
            Self::Webp => "webp",
            Self::Heic => "heic",
            Self::Unknown => "bin",
        }
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Jpeg => "JPEG",
            Self::Png => "PNG",
            Self::Webp => "WebP",
            Self::Heic => "HEIC",
            Self::Unknown => "unknown",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn first_bytes_decide() {
        let cases: [(&[u8], Kind); 8] = [
            (b"\xFF\xD8\xFF\xE0rest", Kind::Jpeg),
            (b"\x89PNG\r\n\x1a\nrest", Kind::Png),
            (b"RIFF\x10\0\0\0WEBPVP8 ", Kind::Webp),
            (b"RIFF\x10\0\0\0WAVEfmt ", Kind::Unknown),
            (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", Kind::Heic),
            (b"\0\0\0\x18ftypmif1\0\0\0\0mif1avif", Kind::Unknown),
            (b"\0\0\0\x18ftypisom\0\0\0\0isommp42", Kind::Unknown),
            (b"%PDF-1.7", Kind::Unknown),
        ];
        for (bytes, kind) in cases {
            assert_eq!(Kind::of(bytes), kind, "{bytes:?}");
        }
    }
}
