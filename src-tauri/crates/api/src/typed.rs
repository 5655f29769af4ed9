//! Text as it was typed: trimmed, not empty where it must not be, not longer than is kept.

use crate::ApiError;
use job::permission::Refused;
use std::collections::BTreeMap;

/// Longest text that a record keeps of one field.
pub(crate) const LONGEST: usize = 20_000;

/// Trimmed text within the limit; inner white space and every script stay as they are.
pub(crate) fn text(field: &'static str, typed: &str) -> Result<String, ApiError> {
    let trimmed = typed.trim();
    if trimmed.chars().count() > LONGEST {
        return Err(ApiError::TooLong { field, limit: LONGEST });
    }
    Ok(trimmed.chars().filter(|c| !c.is_control() || matches!(c, '\n' | '\t')).collect())
}

/// As [`text`], and not empty.
pub(crate) fn required(field: &'static str, typed: &str) -> Result<String, ApiError> {
    let kept = text(field, typed)?;
    if kept.is_empty() { Err(ApiError::Empty { field }) } else { Ok(kept) }
}

/// Shortest passphrase that is taken, characters: an encrypted file lies where others can try as often as they like.
pub(crate) const PASSPHRASE: usize = 12;

/// A passphrase that is long enough.
pub(crate) fn passphrase(typed: &str) -> Result<&str, ApiError> {
    if typed.chars().count() < PASSPHRASE {
        let values = BTreeMap::from([("least".to_owned(), PASSPHRASE.to_string())]);
        return Err(ApiError::Refused(Refused { reason: "passphrase_too_short", values }));
    }
    Ok(typed)
}

/// A passphrase, or none when nothing was typed.
pub(crate) fn new_passphrase(typed: &str) -> Result<Option<&str>, ApiError> {
    if typed.is_empty() { Ok(None) } else { passphrase(typed).map(Some) }
}

/// One of a list of codes.
pub(crate) fn one_of(what: &'static str, typed: &str, codes: &[&str]) -> Result<String, ApiError> {
    if codes.contains(&typed) {
        Ok(typed.to_owned())
    } else {
        Err(ApiError::Unknown { what, value: typed.to_owned() })
    }
}

/// Hashes of photos kept before.
pub(crate) fn photos(hashes: &[String]) -> Result<Vec<evidence::Digest>, ApiError> {
    let digest =
        |hash: &String| hash.parse().map_err(|_| ApiError::Unknown { what: "photo", value: hash.clone() });
    hashes.iter().map(digest).collect()
}

/// A record's name.
pub(crate) fn record(hash: &str) -> Result<evidence::Digest, ApiError> {
    hash.parse().map_err(|_| ApiError::Unknown { what: "record", value: hash.to_owned() })
}
