//! A SHA-256 value (FIPS 180-4), written as 64 lowercase hexadecimal digits.

use std::borrow::Cow;
use std::fmt;
use std::io::Read;
use std::str::FromStr;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use sha2::{Digest as _, Sha256};

use crate::EvidenceError;

/// The 32 bytes of a SHA-256. In text and in JSON: 64 lowercase hexadecimal digits.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Digest(pub [u8; 32]);

impl Digest {
    /// SHA-256 of `bytes`.
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }

    /// SHA-256 of the parts one after the other.
    pub fn of_parts(parts: &[&[u8]]) -> Self {
        let mut hash = Sha256::new();
        for part in parts {
            hash.update(part);
        }
        Self(hash.finalize().into())
    }

    /// SHA-256 of everything `reader` still holds, and how many bytes that was. Memory stays at 256 KiB.
    ///
    /// # Errors
    /// What the reader says.
    pub fn of_reader(reader: &mut dyn Read) -> std::io::Result<(Self, u64)> {
        let (mut hash, mut length) = (Sha256::new(), 0_u64);
        let mut buffer = vec![0_u8; 256 * 1024];
        loop {
            let count = reader.read(&mut buffer)?;
            if count == 0 {
                return Ok((Self(hash.finalize().into()), length));
            }
            hash.update(buffer.get(..count).unwrap_or_default());
            length = length.saturating_add(count as u64);
        }
    }

    /// The 32 bytes.
    pub fn as_bytes(&self) -> &[u8; 32] {
        &self.0
    }
}

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl FromStr for Digest {
    type Err = EvidenceError;

    fn from_str(text: &str) -> Result<Self, EvidenceError> {
        if text.len() != 64 {
            return Err(EvidenceError::BadDigest);
        }
        let mut bytes = [0_u8; 32];
        for (byte, pair) in bytes.iter_mut().zip(text.as_bytes().chunks_exact(2)) {
            let [high, low] = pair else { return Err(EvidenceError::BadDigest) };
            *byte = nibble(*high)? << 4 | nibble(*low)?;
        }
        Ok(Self(bytes))
    }
}

fn nibble(digit: u8) -> Result<u8, EvidenceError> {
    match digit {
        b'0'..=b'9' => Ok(digit - b'0'),
        b'a'..=b'f' => Ok(digit - b'a' + 10),
        _ => Err(EvidenceError::BadDigest),
    }
}

impl Serialize for Digest {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Digest {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?.parse().map_err(de::Error::custom)
    }
}

impl JsonSchema for Digest {
    fn schema_name() -> Cow<'static, str> {
        "Digest".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "pattern": "^[0-9a-f]{64}$" })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-4 example "abc" (NIST "SHA256.pdf", one block message).
    const ABC: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

    #[test]
    fn hashes_the_published_example_however_it_arrives() {
        assert_eq!(Digest::of(b"abc").to_string(), ABC);
        assert_eq!(Digest::of_parts(&[b"a", b"", b"bc"]).to_string(), ABC);
        assert_eq!(Digest::of_reader(&mut &b"abc"[..]).unwrap(), (ABC.parse().unwrap(), 3));
    }

    #[test]
    fn refuses_any_other_spelling() {
        let upper = ABC.to_uppercase();
        let long = format!("{ABC}0");
        for wrong in ["", "ba78", &upper, &long, &ABC.replace('f', "g"), &ABC.replacen("ba", "é", 1)] {
            assert!(wrong.parse::<Digest>().is_err(), "{wrong}");
        }
    }
}
