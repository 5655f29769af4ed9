//! The answer of an authority (RFC 3161 section 2.4.2): a status, and a token if it was granted.

use der::Tag;

use super::authority;
use super::reading::Parts;
use super::{MAX_TOKEN_BYTES, TimestampError};

/// The token (`ContentInfo` in DER) of a reply that was granted. It is not checked here, see [`super::check`].
///
/// # Errors
/// [`TimestampError::Refused`] with what the authority said, [`TimestampError::Malformed`].
pub fn token_of_reply(reply: &[u8]) -> Result<Vec<u8>, TimestampError> {
    if reply.len() > MAX_TOKEN_BYTES {
        return Err(TimestampError::Malformed("it is longer than a time-stamp can be"));
    }
    let mut parts = Parts::of_sequence(reply)?;
    let mut status = parts.sequence()?;
    let number = status.number()?;
    let granted = number <= GRANTED_WITH_MODIFICATIONS;
    if !granted {
        return Err(TimestampError::Refused { status: word(number), text: said(&mut status)? });
    }
    if parts.is_empty() {
        return Err(TimestampError::Malformed("it says granted but holds no token"));
    }
    let token = parts.whole()?.to_vec();
    parts.end()?;
    Ok(token)
}

/// The authority's own words and the failure in ours, without anything that could pose as ours.
fn said(status: &mut Parts<'_>) -> Result<String, TimestampError> {
    let mut said = Vec::new();
    if let Some(texts) = status.optional(Tag::Sequence)? {
        let mut texts = Parts::of(texts)?;
        while !texts.is_empty() {
            let text = String::from_utf8_lossy(texts.value(Tag::Utf8String)?);
            said.push(authority::cleaned(&text, 300));
        }
    }
    if let Some(bits) = status.optional(Tag::BitString)? {
        said.extend(failures(bits).map(str::to_owned));
    }
    Ok(if said.is_empty() { "no reason given".into() } else { said.join("; ") })
}

/// PKIFailureInfo: a bit string whose first byte counts the unused bits.
fn failures(bits: &[u8]) -> impl Iterator<Item = &'static str> {
    let set = |bit: usize| bits.get(1 + bit / 8).is_some_and(|byte| byte & (0x80 >> (bit % 8)) != 0);
    FAILURES.iter().filter(move |(bit, _)| set(*bit)).map(|(_, what)| *what)
}

fn word(status: u64) -> &'static str {
    match status {
        2 => "rejection",
        3 => "waiting",
        4 => "revocation warning",
        5 => "revocation notification",
        _ => "unknown status",
    }
}

const GRANTED_WITH_MODIFICATIONS: u64 = 1;

/// RFC 3161 section 2.4.2, PKIFailureInfo.
const FAILURES: [(usize, &str); 8] = [
    (0, "it does not know the hash algorithm"),
    (2, "it does not permit this kind of request"),
    (5, "the request had a wrong form"),
    (14, "its clock is not available"),
    (15, "it does not have the policy asked for"),
    (16, "it does not know an extension"),
    (17, "it can not add what was asked for"),
    (25, "it failed inside"),
];

#[cfg(test)]
mod tests {
    use super::*;

    /// Written by hand after RFC 3161 section 2.4.2: status 2, one text, failure bit 14 (timeNotAvailable).
    #[test]
    fn a_refusal_is_told_in_the_authoritys_words_and_ours() {
        let mut reply = vec![0x30, 0x15, 0x30, 0x13, 2, 1, 2, 0x30, 8, 0x0c, 6];
        reply.extend_from_slice(b"closed");
        reply.extend_from_slice(&[3, 4, 1, 0, 2, 0]);
        let refused = token_of_reply(&reply).unwrap_err();
        let text = "closed; its clock is not available".to_owned();
        assert_eq!(refused, TimestampError::Refused { status: "rejection", text });
    }

    #[test]
    fn a_grant_without_a_token_is_no_grant() {
        assert!(matches!(token_of_reply(&[0x30, 5, 0x30, 3, 2, 1, 0]), Err(TimestampError::Malformed(_))));
        assert!(matches!(token_of_reply(b"<html>"), Err(TimestampError::Malformed(_))));
    }
}
