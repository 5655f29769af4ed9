//! The EXIF block of our own camera, written field by field (CIPA DC-008, TIFF 6.0).

use chrono::{DateTime, FixedOffset};

/// An invented maker.
const MAKE: &str = "Lumetra Optik (invented)";
const MODEL: &str = "Bench 3";

/// One field of a directory: tag, TIFF type, count, value bytes.
type Field = (u16, u16, u32, Vec<u8>);

const ASCII: u16 = 2;
const SHORT: u16 = 3;
const LONG: u16 = 4;
const RATIONAL: u16 = 5;
const UNDEFINED: u16 = 7;

/// The TIFF block (without the `Exif` prefix) of an upright picture of the given size; `id` is its unique
/// identity of 32 hexadecimal digits.
pub fn block(taken: &DateTime<FixedOffset>, width: u32, height: u32, exposure_us: u32, id: &str) -> Vec<u8> {
    let wall = taken.format("%Y:%m:%d %H:%M:%S").to_string();
    let offset = taken.format("%:z").to_string();
    let inner = vec![
        (0x829A, RATIONAL, 1, [exposure_us.to_be_bytes(), 1_000_000_u32.to_be_bytes()].concat()),
        (0x9000, UNDEFINED, 4, b"0232".to_vec()),
        ascii(0x9003, &wall),
        ascii(0x9004, &wall),
        ascii(0x9010, &offset),
        ascii(0x9011, &offset),
        ascii(0x9012, &offset),
        ascii(0x9291, &taken.format("%3f").to_string()),
        short(0xA001, 1),
        (0xA002, LONG, 1, width.to_be_bytes().to_vec()),
        (0xA003, LONG, 1, height.to_be_bytes().to_vec()),
        ascii(0xA420, id),
    ];
    let outer = |inner_at: u32| {
        vec![
            ascii(0x010F, MAKE),
            ascii(0x0110, MODEL),
            short(0x0112, 1),
            ascii(0x0131, "drawn by our own code"),
            ascii(0x0132, &wall),
            (0x8769, LONG, 1, inner_at.to_be_bytes().to_vec()),
        ]
    };
    let inner_at = 8 + directory(&outer(0), 8).len() as u32;
    let mut bytes = b"MM\x00\x2A\x00\x00\x00\x08".to_vec();
    bytes.extend(directory(&outer(inner_at), 8));
    bytes.extend(directory(&inner, inner_at));
    bytes
}

fn ascii(tag: u16, text: &str) -> Field {
    let value = [text.as_bytes(), b"\0"].concat();
    (tag, ASCII, value.len() as u32, value)
}

fn short(tag: u16, value: u16) -> Field {
    (tag, SHORT, 1, value.to_be_bytes().to_vec())
}

/// One directory that starts at `at`: short values sit in the entry, longer ones after the directory.
fn directory(fields: &[Field], at: u32) -> Vec<u8> {
    let mut entries = (fields.len() as u16).to_be_bytes().to_vec();
    let mut values = Vec::new();
    let values_at = at + 2 + 12 * fields.len() as u32 + 4;
    for (tag, kind, count, value) in fields {
        entries.extend(tag.to_be_bytes());
        entries.extend(kind.to_be_bytes());
        entries.extend(count.to_be_bytes());
        if value.len() <= 4 {
            entries.extend(value.iter().copied().chain(std::iter::repeat(0)).take(4));
        } else {
            entries.extend((values_at + values.len() as u32).to_be_bytes());
            values.extend(value);
            values.extend(std::iter::repeat_n(0, value.len() % 2));
        }
    }
    entries.extend([0; 4]);
    entries.extend(values);
    entries
}
