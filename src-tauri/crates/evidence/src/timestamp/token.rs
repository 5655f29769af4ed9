//! A token taken apart: signed data (RFC 5652 section 5) around what the authority states (RFC 3161 section 2.4.2).

use der::Tag;
use der::asn1::ObjectIdentifier;

use super::reading::{Parts, context, number};
use super::time::Moment;
use super::{MAX_TOKEN_BYTES, TimestampError};
use crate::Digest;

/// What stands in a token; nothing is checked yet.
pub struct Token<'a> {
    /// The signed bytes of the statement.
    pub content: &'a [u8],
    /// The statement, read.
    pub statement: Statement,
    /// The certificates that came along, each in DER.
    pub certificates: Vec<&'a [u8]>,
    /// The one signer.
    pub signer: SignerInfo<'a>,
}

/// TSTInfo.
pub struct Statement {
    /// The policy's object identifier.
    pub policy: ObjectIdentifier,
    /// The stamped hash; none if it isn't SHA-256.
    pub imprint: Option<Digest>,
    /// The token's serial number, lowercase hexadecimal.
    pub serial: String,
    /// When.
    pub time: Moment,
    /// How far the time may be off, in milliseconds rounded up; none if it doesn't say.
    pub accuracy_ms: Option<u64>,
    /// The number from the query; none if there is none.
    pub nonce: Option<u64>,
}

/// SignerInfo.
pub struct SignerInfo<'a> {
    /// Issuer (Name in DER) and serial number (content of the INTEGER), or the key's identifier.
    pub who: Who<'a>,
    /// The hash over the content.
    pub digest: ObjectIdentifier,
    /// Content of the set of signed attributes.
    pub attributes: &'a [u8],
    /// Signature algorithm with parameters in DER.
    pub algorithm: (ObjectIdentifier, Option<&'a [u8]>),
    /// The signature.
    pub signature: &'a [u8],
}

/// How a signer is named.
pub enum Who<'a> {
    /// Issuer in DER and content of the serial number.
    Issued(&'a [u8], &'a [u8]),
    /// The subject key identifier.
    Key(&'a [u8]),
}

impl<'a> Token<'a> {
    /// Takes a token apart.
    pub fn parse(token: &'a [u8]) -> Result<Self, TimestampError> {
        if token.len() > MAX_TOKEN_BYTES {
            return Err(TimestampError::Malformed("it is longer than a time-stamp can be"));
        }
        let mut info = Parts::of_sequence(token)?;
        demand(info.identifier()? == SIGNED_DATA, "it is no signed data")?;
        let mut explicit = Parts::of(info.value(context(0, true))?)?;
        info.end()?;
        let mut data = explicit.sequence()?;
        explicit.end()?;
        data.number()?;
        data.value(Tag::Set)?;
        let content = statement_bytes(&mut data)?;
        let certificates = certificates(&mut data)?;
        data.optional(context(1, true))?;
        let mut signers = Parts::of(data.value(Tag::Set)?)?;
        data.end()?;
        let signer = SignerInfo::read(signers.sequence()?)?;
        demand(signers.is_empty(), "it has more than one signer")?;
        Ok(Self { content, statement: Statement::parse(content)?, certificates, signer })
    }
}

fn statement_bytes<'a>(data: &mut Parts<'a>) -> Result<&'a [u8], TimestampError> {
    let mut encapsulated = data.sequence()?;
    demand(encapsulated.identifier()? == STATEMENT, "what is signed is no time-stamp")?;
    let mut explicit = Parts::of(encapsulated.value(context(0, true))?)?;
    encapsulated.end()?;
    let content = explicit.value(Tag::OctetString)?;
    explicit.end()?;
    Ok(content)
}

fn certificates<'a>(data: &mut Parts<'a>) -> Result<Vec<&'a [u8]>, TimestampError> {
    let mut found = Vec::new();
    if let Some(set) = data.optional(context(0, true))? {
        let mut set = Parts::of(set)?;
        while !set.is_empty() {
            // Other kinds of certificates have context-specific tags; they are of no use here.
            let is_certificate = set.next_tag() == Some(Tag::Sequence);
            let whole = set.whole()?;
            if is_certificate {
                found.push(whole);
            }
        }
    }
    demand(found.len() <= MOST_CERTIFICATES, "it holds too many certificates")?;
    Ok(found)
}

impl Statement {
    fn parse(content: &[u8]) -> Result<Self, TimestampError> {
        let mut parts = Parts::of_sequence(content)?;
        demand(parts.number()? == 1, "its version is not 1")?;
        let policy = parts.identifier()?;
        let imprint = imprint(&mut parts)?;
        let serial = parts.value(Tag::Integer)?.iter().map(|byte| format!("{byte:02x}")).collect();
        let time = Moment::parse(parts.value(Tag::GeneralizedTime)?)?;
        let accuracy_ms = parts.optional(Tag::Sequence)?.map(accuracy).transpose()?;
        parts.optional(Tag::Boolean)?;
        let nonce = parts.optional(Tag::Integer)?.map(number).transpose()?;
        parts.optional(context(0, true))?;
        if parts.optional(context(1, true))?.is_some() {
            return Err(TimestampError::Unsupported("extensions".into()));
        }
        parts.end()?;
        Ok(Self { policy, imprint, serial, time, accuracy_ms, nonce })
    }
}

fn imprint(parts: &mut Parts<'_>) -> Result<Option<Digest>, TimestampError> {
    let mut imprint = parts.sequence()?;
    let (algorithm, _) = imprint.algorithm()?;
    let hash = imprint.value(Tag::OctetString)?;
    imprint.end()?;
    let hash = <[u8; 32]>::try_from(hash).ok().map(Digest);
    Ok(hash.filter(|_| algorithm == super::signature::SHA_256))
}

/// Seconds, then milliseconds `[0]` and microseconds `[1]`.
fn accuracy(content: &[u8]) -> Result<u64, TimestampError> {
    let mut parts = Parts::of(content)?;
    let seconds = parts.optional(Tag::Integer)?.map(number).transpose()?.unwrap_or_default();
    let milliseconds = parts.optional(context(0, false))?.map(number).transpose()?.unwrap_or_default();
    let microseconds = parts.optional(context(1, false))?.map(number).transpose()?.unwrap_or_default();
    parts.end()?;
    Ok(seconds.saturating_mul(1000).saturating_add(milliseconds).saturating_add(microseconds.div_ceil(1000)))
}

impl<'a> SignerInfo<'a> {
    fn read(mut parts: Parts<'a>) -> Result<Self, TimestampError> {
        parts.number()?;
        let who = match parts.optional(context(0, false))? {
            Some(key) => Who::Key(key),
            None => {
                let mut issued = parts.sequence()?;
                let (issuer, serial) = (issued.whole()?, issued.value(Tag::Integer)?);
                issued.end()?;
                Who::Issued(issuer, serial)
            }
        };
        let (digest, _) = parts.algorithm()?;
        let attributes = parts.value(context(0, true))?;
        let algorithm = parts.algorithm()?;
        let signature = parts.value(Tag::OctetString)?;
        parts.optional(context(1, true))?;
        parts.end()?;
        Ok(Self { who, digest, attributes, algorithm, signature })
    }

    /// The one value of the attribute with this name, with tag and length; none if there is no such attribute.
    pub fn attribute(&self, name: ObjectIdentifier) -> Result<Option<&'a [u8]>, TimestampError> {
        let (mut all, mut found) = (Parts::of(self.attributes)?, None);
        while !all.is_empty() {
            let mut attribute = all.sequence()?;
            if attribute.identifier()? == name {
                let mut values = Parts::of(attribute.value(Tag::Set)?)?;
                demand(found.is_none(), "an attribute stands there twice")?;
                found = Some(values.whole()?);
                values.end()?;
            }
        }
        Ok(found)
    }

    /// What the signature is over: the attributes with the tag of a set (RFC 5652 section 5.4), their length
    /// written as DER has it. A token is shorter than 64 KiB, so two bytes of length are enough.
    pub fn signed_bytes(&self) -> Vec<u8> {
        let length = self.attributes.len();
        let mut bytes = vec![0x31];
        match length {
            0..=0x7f => bytes.push(length as u8),
            0x80..=0xff => bytes.extend([0x81, length as u8]),
            _ => bytes.extend([0x82, (length >> 8) as u8, length as u8]),
        }
        bytes.extend_from_slice(self.attributes);
        bytes
    }
}

pub fn demand(fits: bool, what: &'static str) -> Result<(), TimestampError> {
    if fits { Ok(()) } else { Err(TimestampError::Malformed(what)) }
}

/// id-signedData (RFC 5652 section 5.1).
const SIGNED_DATA: ObjectIdentifier = ObjectIdentifier::new_unwrap("1.2.840.113549.1.7.2");

/// id-ct-TSTInfo (RFC 3161 section 2.4.2).
pub const STATEMENT: ObjectIdentifier = ObjectIdentifier::new_unwrap("1.2.840.113549.1.9.16.1.4");

/// Enough for every chain, too few to keep a verifier busy.
const MOST_CERTIFICATES: usize = 16;
