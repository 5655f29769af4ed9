//! What can go wrong while sealing, parsing or packing.

use crate::Digest;

/// Every failure of this crate: what happened and what to try.
#[derive(Debug, thiserror::Error)]
pub enum EvidenceError {
    /// A digest was not 64 lowercase hexadecimal digits.
    #[error("this is not a SHA-256 in 64 lowercase hexadecimal digits; copy it again in full")]
    BadDigest,
    /// The bytes are no JSON at all.
    #[error("the bytes are not JSON ({0}); fetch the record again from where it was kept")]
    NotJson(String),
    /// The JSON is valid but not in the one form RFC 8785 allows.
    #[error(
        "the bytes are not in canonical form (RFC 8785), so their hash proves nothing; fetch the original"
    )]
    NotCanonical,
    /// A number with a fraction, an exponent, or beyond 2^53 - 1.
    #[error(
        "a number is not an exact integer below 2^53; write measured values as decimal strings with a unit"
    )]
    InexactNumber,
    /// An object key holds something else than ASCII.
    #[error("the key {0:?} is not plain ASCII; rename it")]
    KeyNotAscii(String),
    /// A field is missing, unknown, or has a value of the wrong shape.
    #[error("the record has a wrong field: {0}")]
    WrongField(String),
    /// A record of a version this program doesn't know.
    #[error("the record has version {0}, which this program does not know; update the program")]
    UnknownVersion(u64),
    /// The head of the log contradicts itself.
    #[error(
        "the log says it has {0} records but its last hash does not fit; open the log again from storage"
    )]
    WrongHead(u64),
    /// Longer than [`crate::record::MAX_BYTES`].
    #[error(
        "the record would be {0} bytes long; put long text or pictures into files and refer to their hash"
    )]
    TooLong(usize),
    /// A disclosure isn't what RFC 9901 describes.
    #[error("the disclosure is damaged: {0}")]
    BadDisclosure(&'static str),
    /// A checkpoint text or signed note isn't what C2SP describes.
    #[error("the checkpoint is damaged: {0}")]
    BadCheckpoint(&'static str),
    /// A key could not be read or written.
    #[error("the key could not be read: {0}")]
    BadKey(String),
    /// A signature doesn't fit text and key.
    #[error("the signature does not belong to this text and key")]
    BadSignature,
    /// What should go into the packet contradicts itself.
    #[error("the packet can not be written: {0}")]
    BadContents(String),
    /// A photo's bytes are no longer those its record names.
    #[error("the photo {0} no longer has the bytes its record names; restore it from a backup")]
    PhotoChanged(Digest),
    /// The bytes aren't a packet.
    #[error("this is not a packet: {0}")]
    NotAPacket(&'static str),
    /// The caller asked to stop.
    #[error("stopped on request; nothing was kept")]
    Cancelled,
    /// A time-stamp doesn't count.
    #[error(transparent)]
    Timestamp(#[from] crate::timestamp::TimestampError),
    /// Reading or writing failed below us.
    #[error("reading or writing failed: {0}")]
    Io(#[from] std::io::Error),
}
