//! The bytes of the zip around the files. There is exactly one way to write them, so they can be derived again.
//!
//! Source: PKWARE APPNOTE 6.3.9, sections 4.3 to 4.5. Every entry is stored, dated 1980-01-01 00:00, has mode
//! 0100644 and no extra field but Zip64, and that only where a value doesn't fit 32 bits. No comments.

use super::hashing::Hashing;
use crate::Digest;

/// One file in the zip, in the order in which it stands there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Path in the zip, ASCII, with `/`.
    pub name: String,
    /// Length in bytes.
    pub size: u64,
    /// CRC-32 as the header states it.
    pub crc: u32,
    /// Where its local header starts.
    pub offset: u64,
}

/// What hashing the bytes of an entry gave.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hashed {
    /// SHA-256.
    pub sha256: Digest,
    /// CRC-32.
    pub crc: u32,
}

impl Hashed {
    /// Hashes bytes in memory.
    pub fn of(bytes: &[u8]) -> Self {
        let mut hashing = Hashing::default();
        hashing.update(bytes);
        hashing.finish()
    }
}

impl Entry {
    /// How long the local header is.
    pub fn header_length(&self) -> u64 {
        30 + self.name.len() as u64 + if self.is_large() { 20 } else { 0 }
    }

    /// Where the bytes of the file start.
    pub fn data_start(&self) -> u64 {
        self.offset.saturating_add(self.header_length())
    }

    /// Where the next thing after the file starts.
    pub fn end(&self) -> u64 {
        self.data_start().saturating_add(self.size)
    }

    fn is_large(&self) -> bool {
        self.size >= MAX_32
    }

    /// The local file header (APPNOTE 4.3.7).
    pub fn local_header(&self) -> Vec<u8> {
        let mut header = Bytes::new(LOCAL);
        self.common(&mut header, self.is_large());
        header.u16(if self.is_large() { 20 } else { 0 });
        header.0.extend_from_slice(self.name.as_bytes());
        if self.is_large() {
            header.u16(1).u16(16).u64(self.size).u64(self.size);
        }
        header.0
    }

    /// The header in the central directory (APPNOTE 4.3.12).
    pub fn central_header(&self) -> Vec<u8> {
        let far = self.offset >= MAX_32;
        let extra = (if self.is_large() { 16 } else { 0 }) + (if far { 8 } else { 0 });
        let mut header = Bytes::new(CENTRAL);
        header.u16(MADE_ON_UNIX | version(self.is_large() || far));
        self.common(&mut header, self.is_large() || far);
        header.u16(if extra > 0 { extra + 4 } else { 0 }).u16(0).u16(0).u16(0).u32(REGULAR_FILE);
        header.u32(clamp(self.offset));
        header.0.extend_from_slice(self.name.as_bytes());
        if extra > 0 {
            header.u16(1).u16(extra);
        }
        if self.is_large() {
            header.u64(self.size).u64(self.size);
        }
        if far {
            header.u64(self.offset);
        }
        header.0
    }

    /// The fields both headers share, from "version needed" to "file name length".
    fn common(&self, header: &mut Bytes, zip64: bool) {
        header.u16(version(zip64)).u16(0).u16(0).u16(0).u16(FIRST_OF_JANUARY_1980).u32(self.crc);
        header.u32(clamp(self.size)).u32(clamp(self.size)).u16(self.name.len() as u16);
    }
}

/// What follows the central headers: they are `count`, `size` bytes in all, and start at `start`.
pub fn directory_end(count: u64, size: u64, start: u64) -> Vec<u8> {
    let mut all = Bytes(Vec::new());
    if count >= MAX_16 || size >= MAX_32 || start >= MAX_32 {
        all.u32(END_64).u64(44).u16(MADE_ON_UNIX | 45).u16(45).u32(0).u32(0);
        all.u64(count).u64(count).u64(size).u64(start);
        all.u32(LOCATOR_64).u32(0).u64(start.saturating_add(size)).u32(1);
    }
    let count = count.min(MAX_16) as u16;
    all.u32(END).u16(0).u16(0).u16(count).u16(count).u32(clamp(size)).u32(clamp(start)).u16(0);
    all.0
}

/// What a local header says of name, size and CRC, read from the bytes at `offset`; none if these bytes aren't
/// exactly the header we would write for it. `header` may hold more than the header.
pub fn read_local_header(header: &[u8], offset: u64) -> Option<Entry> {
    let u16_at = |at: usize| Some(u16::from_le_bytes(header.get(at..at + 2)?.try_into().ok()?));
    let u32_at = |at: usize| Some(u32::from_le_bytes(header.get(at..at + 4)?.try_into().ok()?));
    let name_end = 30 + usize::from(u16_at(26)?);
    let name = std::str::from_utf8(header.get(30..name_end)?).ok()?.to_owned();
    let mut size = u64::from(u32_at(18)?);
    if size == MAX_32 {
        size = u64::from_le_bytes(header.get(name_end + 4..name_end + 12)?.try_into().ok()?);
    }
    let entry = Entry { name, size, crc: u32_at(14)?, offset };
    header.starts_with(&entry.local_header()).then_some(entry)
}

/// The longest a local header can be: names are at most 65,535 bytes, but ours are far shorter.
pub const LONGEST_HEADER: u64 = 30 + 512 + 20;

/// The first bytes of a local header, with which every packet starts.
pub const LOCAL_MAGIC: [u8; 4] = LOCAL.to_le_bytes();

const LOCAL: u32 = 0x0403_4b50;
const CENTRAL: u32 = 0x0201_4b50;
const END: u32 = 0x0605_4b50;
const END_64: u32 = 0x0606_4b50;
const LOCATOR_64: u32 = 0x0706_4b50;
const MAX_16: u64 = 0xffff;
const MAX_32: u64 = 0xffff_ffff;
const FIRST_OF_JANUARY_1980: u16 = 1 << 5 | 1;
const MADE_ON_UNIX: u16 = 3 << 8;
const REGULAR_FILE: u32 = 0o100_644 << 16;

fn version(zip64: bool) -> u16 {
    if zip64 { 45 } else { 10 }
}

fn clamp(value: u64) -> u32 {
    value.min(MAX_32) as u32
}

/// Little-endian bytes under construction.
struct Bytes(Vec<u8>);

impl Bytes {
    fn new(signature: u32) -> Self {
        Self(signature.to_le_bytes().to_vec())
    }

    fn u16(&mut self, value: u16) -> &mut Self {
        self.0.extend_from_slice(&value.to_le_bytes());
        self
    }

    fn u32(&mut self, value: u32) -> &mut Self {
        self.0.extend_from_slice(&value.to_le_bytes());
        self
    }

    fn u64(&mut self, value: u64) -> &mut Self {
        self.0.extend_from_slice(&value.to_le_bytes());
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_header_reads_back_only_if_every_byte_is_as_we_write_it() {
        for size in [0, 7, MAX_32 - 1, MAX_32, 1 << 40] {
            let entry = Entry { name: "p/data/a.txt".into(), size, crc: 0x1234_5678, offset: 99 };
            let mut header = entry.local_header();
            assert_eq!(header.len() as u64, entry.header_length());
            assert_eq!(read_local_header(&header, 99), Some(entry.clone()));
            for at in 0..header.len() {
                header[at] ^= 0x20;
                assert_ne!(read_local_header(&header, 99), Some(entry.clone()), "byte {at}");
                header[at] ^= 0x20;
            }
        }
    }

    #[test]
    fn zip64_records_appear_only_when_needed() {
        let entry = |offset| Entry { name: "a".into(), size: 1, crc: 0, offset };
        let length = |entry: Entry, start| {
            let header = entry.central_header();
            header.len() + directory_end(1, header.len() as u64, start).len()
        };
        assert_eq!(length(entry(0), 40), 46 + 1 + 22);
        assert_eq!(length(entry(MAX_32), MAX_32 + 32), 46 + 1 + 12 + 56 + 20 + 22);
    }
}
