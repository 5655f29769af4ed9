//! Which characters names may have, so that they are safe in paths, in origins and for a shell script.

use crate::EvidenceError;

/// Refuses an identifier that isn't 1 to 64 of `A-Z a-z 0-9 . _ -`, starting with a letter or digit.
pub fn identifier(field: &str, text: &str) -> Result<(), EvidenceError> {
    let first = text.bytes().next().is_some_and(|byte| byte.is_ascii_alphanumeric());
    let rest = text.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"._-".contains(&byte));
    demand(first && rest && text.len() <= 64, field, "1 to 64 of A-Z a-z 0-9 . _ -, first a letter or digit")
}

/// Refuses a kind that isn't 1 to 64 of `a-z 0-9 _`.
pub fn kind(text: &str) -> Result<(), EvidenceError> {
    let fits = text.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'_');
    demand(fits && (1..=64).contains(&text.len()), "kind", "1 to 64 of a-z 0-9 _")
}

/// Refuses a media type that isn't a plain lowercase `type/subtype` (RFC 6838 section 4.2, without parameters).
pub fn media_type(text: &str) -> Result<(), EvidenceError> {
    let part = |part: &str| {
        let fits = |byte: u8| byte.is_ascii_lowercase() || byte.is_ascii_digit() || b".+-".contains(&byte);
        (1..=64).contains(&part.len()) && part.bytes().all(fits)
    };
    let fits = text.split_once('/').is_some_and(|(kind, subtype)| part(kind) && part(subtype));
    demand(fits, "photos.type", "a lowercase type/subtype")
}

/// Refuses with the name of the field and what it should be.
pub fn demand(fits: bool, field: &str, wanted: &str) -> Result<(), EvidenceError> {
    if fits { Ok(()) } else { Err(EvidenceError::WrongField(format!("{field} must be {wanted}"))) }
}
