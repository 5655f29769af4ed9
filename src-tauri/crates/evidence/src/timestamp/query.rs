//! The question to an authority (RFC 3161 section 2.4.1).

use der::asn1::{Null, ObjectIdentifier, OctetString, Uint};
use der::{Encode as _, Sequence};

use super::TimestampError;
use super::signature::SHA_256;
use crate::Digest;

/// Content type of the query (RFC 3161 section 3.4).
pub const QUERY_TYPE: &str = "application/timestamp-query";

/// Content type of the reply (RFC 3161 section 3.4).
pub const REPLY_TYPE: &str = "application/timestamp-reply";

/// The query for a time-stamp over `text`: SHA-256, the nonce, and the wish for the signer's certificate. In DER.
///
/// `nonce` must be random and new at each query: it is what tells the answer from an older one.
///
/// # Errors
/// [`TimestampError::Malformed`] if it could not be written, which no text causes.
pub fn query(text: &[u8], nonce: u64) -> Result<Vec<u8>, TimestampError> {
    let written = || {
        let imprint = Imprint {
            algorithm: Algorithm { name: SHA_256, parameters: Null },
            hash: OctetString::new(Digest::of(text).0)?,
        };
        let nonce = Uint::new(&nonce.to_be_bytes())?;
        Query { version: 1, imprint, nonce, wants_certificate: true }.to_der()
    };
    written().map_err(|_| TimestampError::Malformed("the query could not be written"))
}

#[derive(Sequence)]
struct Query {
    version: u8,
    imprint: Imprint,
    nonce: Uint,
    wants_certificate: bool,
}

#[derive(Sequence)]
struct Imprint {
    algorithm: Algorithm,
    hash: OctetString,
}

#[derive(Sequence)]
struct Algorithm {
    name: ObjectIdentifier,
    parameters: Null,
}
