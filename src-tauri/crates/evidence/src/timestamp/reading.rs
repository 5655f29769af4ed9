//! Reading DER step by step (ITU-T X.690), by the `der` crate's reader. Sets are taken in the order in which they
//! stand, because the signature is over the bytes as they are.

use der::asn1::{AnyRef, ObjectIdentifier};
use der::{Decode as _, Reader as _, SliceReader, Tag, TagNumber, Tagged as _};

use super::TimestampError;

/// What is left of a sequence.
pub struct Parts<'a>(SliceReader<'a>);

impl<'a> Parts<'a> {
    /// The values inside `content`.
    pub fn of(content: &'a [u8]) -> Result<Self, TimestampError> {
        SliceReader::new(content).map(Self).map_err(|_| BAD)
    }

    /// The values inside the one sequence that `der` is; nothing may follow it.
    pub fn of_sequence(der: &'a [u8]) -> Result<Self, TimestampError> {
        let mut outer = Self::of(der)?;
        let inner = outer.sequence()?;
        outer.end()?;
        Ok(inner)
    }

    /// The content of the next value, which must have this tag.
    pub fn value(&mut self, tag: Tag) -> Result<&'a [u8], TimestampError> {
        let any = AnyRef::decode(&mut self.0).map_err(|_| BAD)?;
        if any.tag() == tag { Ok(any.value()) } else { Err(BAD) }
    }

    /// The content of the next value if it has this tag.
    pub fn optional(&mut self, tag: Tag) -> Result<Option<&'a [u8]>, TimestampError> {
        if self.next_tag() == Some(tag) { self.value(tag).map(Some) } else { Ok(None) }
    }

    /// The next value with its tag and length.
    pub fn whole(&mut self) -> Result<&'a [u8], TimestampError> {
        self.0.tlv_bytes().map_err(|_| BAD)
    }

    /// The values inside the next sequence.
    pub fn sequence(&mut self) -> Result<Self, TimestampError> {
        Self::of(self.value(Tag::Sequence)?)
    }

    /// The next object identifier.
    pub fn identifier(&mut self) -> Result<ObjectIdentifier, TimestampError> {
        ObjectIdentifier::from_bytes(self.value(Tag::ObjectIdentifier)?).map_err(|_| BAD)
    }

    /// The next algorithm identifier: its name and its parameters in DER.
    pub fn algorithm(&mut self) -> Result<(ObjectIdentifier, Option<&'a [u8]>), TimestampError> {
        let mut parts = self.sequence()?;
        let name = parts.identifier()?;
        let parameters = if parts.is_empty() { None } else { Some(parts.whole()?) };
        parts.end()?;
        Ok((name, parameters))
    }

    /// The next integer if it isn't negative and fits 64 bits.
    pub fn number(&mut self) -> Result<u64, TimestampError> {
        number(self.value(Tag::Integer)?)
    }

    /// The tag of the next value.
    pub fn next_tag(&self) -> Option<Tag> {
        Tag::peek(&self.0).ok()
    }

    /// Whether nothing is left.
    pub fn is_empty(&self) -> bool {
        self.0.is_finished()
    }

    /// Refuses anything left.
    pub fn end(&self) -> Result<(), TimestampError> {
        if self.is_empty() { Ok(()) } else { Err(BAD) }
    }
}

/// The content of an integer as a number that isn't negative.
pub fn number(content: &[u8]) -> Result<u64, TimestampError> {
    let digits = match content {
        [0, rest @ ..] => rest,
        [first, ..] if first & 0x80 == 0 => content,
        _ => return Err(BAD),
    };
    if digits.len() > 8 {
        return Err(BAD);
    }
    Ok(digits.iter().fold(0, |number, byte| number << 8 | u64::from(*byte)))
}

/// The context-specific tag of this number.
pub const fn context(number: u32, constructed: bool) -> Tag {
    Tag::ContextSpecific { constructed, number: TagNumber(number) }
}

const BAD: TimestampError = TimestampError::Malformed("its DER is not what RFC 3161 prescribes");
