//! How the camera was held (EXIF tag 0x0112, CIPA DC-008), and turning pixels upright.

use image::DynamicImage;
use serde::{Deserialize, Serialize};

/// EXIF orientation 1 to 8; what must be done to the stored pixels to show the picture upright.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Orientation {
    /// 1, also if absent or out of range: nothing.
    #[default]
    Upright,
    /// 2: mirror left to right.
    Mirror,
    /// 3: turn by 180°.
    HalfTurn,
    /// 4: mirror top to bottom.
    Flip,
    /// 5: mirror along the diagonal from top left.
    Transpose,
    /// 6: turn clockwise by 90°.
    QuarterTurn,
    /// 7: mirror along the diagonal from top right.
    Transverse,
    /// 8: turn counter-clockwise by 90°.
    ThreeQuarterTurn,
}

impl Orientation {
    /// From the EXIF value; anything but 2 to 8 counts as upright.
    #[must_use]
    pub fn from_exif(value: u32) -> Self {
        match value {
            2 => Self::Mirror,
            3 => Self::HalfTurn,
            4 => Self::Flip,
            5 => Self::Transpose,
            6 => Self::QuarterTurn,
            7 => Self::Transverse,
            8 => Self::ThreeQuarterTurn,
            _ => Self::Upright,
        }
    }

    /// The EXIF value, 1 to 8.
    #[must_use]
    pub fn exif(self) -> u32 {
        match self {
            Self::Upright => 1,
            Self::Mirror => 2,
            Self::HalfTurn => 3,
            Self::Flip => 4,
            Self::Transpose => 5,
            Self::QuarterTurn => 6,
            Self::Transverse => 7,
            Self::ThreeQuarterTurn => 8,
        }
    }

    /// True if width and height change places.
    #[must_use]
    pub fn swaps_sides(self) -> bool {
        self.exif() >= 5
    }

    pub(crate) fn apply(self, picture: DynamicImage) -> DynamicImage {
        match self {
            Self::Upright => picture,
            Self::Mirror => picture.fliph(),
            Self::HalfTurn => picture.rotate180(),
            Self::Flip => picture.flipv(),
            Self::Transpose => picture.rotate90().fliph(),
            Self::QuarterTurn => picture.rotate90(),
            Self::Transverse => picture.rotate270().fliph(),
            Self::ThreeQuarterTurn => picture.rotate270(),
        }
    }
}
