//! A sheet set by ImageMagick.

use image::GrayImage;
use std::process::Command;

/// Width of a sheet in pixels before it is photographed.
pub const WIDE: u32 = 1600;

/// Text on a sheet.
pub struct Piece {
    /// Pixels from the left edge, or from the right edge for text that ends there.
    pub at: i32,
    pub ends_there: bool,
    pub text: String,
}

/// A row of them.
pub struct Row {
    pub size: u32,
    pub bold: bool,
    pub pieces: Vec<Piece>,
}

/// What is set.
pub struct Sheet {
    /// Name of the family's files: `DejaVuSans`, `DejaVuSansMono`, `DejaVuSerif`.
    pub family: &'static str,
    /// Printed by heat: it fades.
    pub thermal: bool,
    pub rows: Vec<Row>,
}

/// Black on white.
pub fn set(sheet: &Sheet) -> GrayImage {
    let folder = tempfile::tempdir().expect("a folder can be made");
    let file = folder.path().join("sheet.png");
    let mut down = 70;
    let mut drawn: Vec<String> = Vec::new();
    for row in &sheet.rows {
        let weight = if row.bold { "-Bold" } else { "" };
        let font = format!("/usr/share/fonts/truetype/dejavu/{}{weight}.ttf", sheet.family);
        drawn.extend(["-font".into(), font, "-pointsize".into(), row.size.to_string()]);
        for piece in row.pieces.iter().filter(|piece| !piece.text.is_empty()) {
            let side = if piece.ends_there { "NorthEast" } else { "NorthWest" };
            let at = format!("+{}+{down}", piece.at);
            // A percent sign begins an escape of ImageMagick's.
            let text = piece.text.replace('%', "%%");
            drawn.extend(["-gravity".into(), side.into(), "-annotate".into(), at, text]);
        }
        down += row.size * 17 / 10;
    }
    let size = format!("{WIDE}x{}", down + 70);
    let status = Command::new("convert")
        .args(["-size", &size, "xc:white", "-fill", "black", "-encoding", "Unicode"])
        .args(drawn)
        .args(["-colorspace", "Gray"])
        .arg(&file)
        .status()
        .expect("ImageMagick is installed");
    assert!(status.success(), "ImageMagick could not set the sheet");
    image::open(&file).expect("it wrote a picture").into_luma8()
}
