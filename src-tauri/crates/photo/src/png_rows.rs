//! A PNG row by row, in eight bits of red, green and blue: a large one is never held whole.

use crate::pixels::{MAX_DECODE_BYTES, on_white};
use png::{BitDepth, ColorType, Decoder, Limits, Transformations};
use std::io::Cursor;

/// Its rows come in seven rounds (PNG, section 8), so that the whole picture has to be held.
pub(crate) fn is_interlaced(bytes: &[u8]) -> bool {
    // Eight bytes of signature, the header's length and name, width and height, depth, color type, compression, filter.
    bytes.get(28).is_some_and(|method| *method == 1)
}

/// Hands out the rows from above, and ends quietly where the bytes stop; an error says why there is no row at all.
pub(crate) fn rows(bytes: &[u8], mut take: impl FnMut(&[u8])) -> Result<(), String> {
    let limit = usize::try_from(MAX_DECODE_BYTES).unwrap_or(usize::MAX);
    let mut decoder = Decoder::new_with_limits(Cursor::new(bytes), Limits { bytes: limit });
    decoder.set_transformations(Transformations::EXPAND | Transformations::STRIP_16);
    // Texts and color profiles may be small bombs of their own, and nothing of them is shown.
    decoder.set_ignore_text_chunk(true);
    decoder.set_ignore_iccp_chunk(true);
    let mut reader = decoder.read_info().map_err(|error| error.to_string())?;
    let (color, depth) = reader.output_color_type();
    if depth != BitDepth::Eight {
        return Err("its samples can't be made eight bits".into());
    }
    let mut flat = Vec::new();
    let mut any = false;
    loop {
        let row = match reader.next_row() {
            Ok(Some(row)) => row,
            Ok(None) => return Ok(()),
            Err(_) if any => return Ok(()),
            Err(error) => return Err(error.to_string()),
        };
        any = true;
        flat.clear();
        match color {
            ColorType::Rgb => {
                take(row.data());
                continue;
            }
            ColorType::Grayscale => flat.extend(row.data().iter().flat_map(|gray| [*gray; 3])),
            ColorType::GrayscaleAlpha => {
                let pixels = row.data().as_chunks::<2>().0;
                flat.extend(pixels.iter().flat_map(|[gray, alpha]| on_white([*gray, *gray, *gray, *alpha])));
            }
            ColorType::Rgba => {
                flat.extend(row.data().as_chunks::<4>().0.iter().flat_map(|pixel| on_white(*pixel)));
            }
            ColorType::Indexed => return Err("its palette can't be read".into()),
        }
        take(&flat);
    }
}
