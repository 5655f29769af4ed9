//! Drawing takes a while, so a picture that already shows its scene is kept and only its time is set anew.

use crate::chance::seed_of;
use serde_json::Value;

/// Start of an EXIF segment's payload.
pub const EXIF: &[u8] = b"Exif\0\0";
/// Raise it when scenes are drawn differently, so that every picture is drawn again.
const DRAWING: u32 = 2;

/// 32 hexadecimal digits that change with everything in a list entry but its time.
pub fn identity(entry: &Value) -> String {
    let mut scene = entry.clone();
    if let Some(fields) = scene.as_object_mut() {
        fields.remove("taken");
    }
    (0..4_u32).map(|part| format!("{:08x}", seed_of(&format!("{DRAWING} {part} {scene}")))).collect()
}

/// The old picture with the new EXIF block, if it is ours and of the same scene.
pub fn retimed(old: &[u8], id: &str, block: &[u8]) -> Option<Vec<u8>> {
    let (at, end) = exif_segment(old)?;
    let segment = old.get(at..end)?;
    if !segment.windows(id.len()).any(|window| window == id.as_bytes()) {
        return None;
    }
    let length = u16::try_from(2 + EXIF.len() + block.len()).ok()?;
    let fresh = [&[0xFF, 0xE1][..], &length.to_be_bytes(), EXIF, block].concat();
    Some([old.get(..at)?, &fresh, old.get(end..)?].concat())
}

/// Start and end of the first APP1 segment with EXIF.
fn exif_segment(jpeg: &[u8]) -> Option<(usize, usize)> {
    let mut at = 2;
    loop {
        let (start, marker) = (*jpeg.get(at)?, *jpeg.get(at + 1)?);
        let length = usize::from(u16::from_be_bytes(jpeg.get(at + 2..at + 4)?.try_into().ok()?));
        let end = at + 2 + length;
        if marker == 0xE1 && jpeg.get(at + 4..end)?.starts_with(EXIF) {
            return Some((at, end));
        }
        if start != 0xFF || marker == 0xDA {
            return None;
        }
        at = end;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn identity_ignores_only_the_time() {
        let id = |text: &str| identity(&serde_json::from_str(text).unwrap());
        let one = id(r#"{"file":"a.jpg","taken":"1","value":"12.5"}"#);
        assert_eq!(one, id(r#"{"file":"a.jpg","taken":"2","value":"12.5"}"#));
        assert_ne!(one, id(r#"{"file":"a.jpg","taken":"1","value":"12.6"}"#));
        assert_eq!(one.len(), 32);
    }
}
