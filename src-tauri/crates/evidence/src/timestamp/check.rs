//! Judging a token at its own time.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::signer::Signer;
use super::token::Token;
use super::{AuthorityRoot, TimestampError, authority, chain};
use crate::Digest;

/// What a good token states.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Stamp {
    /// The time, RFC 3339 in UTC. What was stamped existed by then.
    pub time: String,
    /// The same in milliseconds since 1970.
    pub unix_ms: i64,
    /// How far the time may be off, in milliseconds; none if the authority doesn't say.
    pub accuracy_ms: Option<u64>,
    /// What the signer's certificate calls itself.
    pub authority: String,
    /// The token's serial number, lowercase hexadecimal.
    pub serial: String,
    /// The authority's policy, an object identifier.
    pub policy: String,
    /// SHA-256 of the root's certificate; none if no root was named, and then nothing says who the authority is.
    pub root: Option<Digest>,
}

/// Judges a token over `text`: imprint, nonce (if one is given), purpose and validity of the signer's certificate at
/// the token's time, its naming by hash (RFC 5816), the signature, and the chain to one of `roots`.
///
/// With no `roots` everything but the chain is checked and [`Stamp::root`] is none.
///
/// # Errors
/// One [`TimestampError`] for each way to fail; the first in the order above.
pub fn check(
    token: &[u8],
    text: &[u8],
    nonce: Option<u64>,
    roots: &[AuthorityRoot],
) -> Result<Stamp, TimestampError> {
    let token = Token::parse(token)?;
    let statement = &token.statement;
    if statement.imprint != Some(Digest::of(text)) {
        return Err(TimestampError::WrongImprint);
    }
    if nonce.is_some() && statement.nonce != nonce {
        return Err(TimestampError::WrongNonce);
    }
    let signer = Signer::of(&token)?;
    signer.check_certificate_id(&token.signer)?;
    signer.check_signature(&token)?;
    signer.check_purpose()?;
    signer.check_validity(statement.time)?;
    let root = match roots {
        [] => None,
        named => Some(chain::root_of(signer.der, &token.certificates, named, statement.time)?.fingerprint()),
    };
    Ok(Stamp {
        time: statement.time.rfc3339(),
        unix_ms: statement.time.unix_ms,
        accuracy_ms: statement.accuracy_ms,
        authority: authority::shown(signer.certificate.tbs_certificate().subject()),
        serial: statement.serial.clone(),
        policy: statement.policy.to_string(),
        root,
    })
}
