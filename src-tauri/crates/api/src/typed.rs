//! Text as it was typed: trimmed, not empty where it must not be, not longer than is kept.

use crate::ApiError;
use crate::world::Clock;
use chrono::{DateTime, Datelike, FixedOffset, NaiveDateTime};
use job::Refused;
use money::{Cents, Marks};

/// Longest text that a record keeps of one field.
pub(crate) const LONGEST: usize = job::event::check::LONGEST;

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
        let refused = Refused::because("passphrase_too_short").with("least", &PASSPHRASE.to_string());
        return Err(ApiError::Refused(refused));
    }
    Ok(typed)
}

/// A passphrase, or none when nothing was typed.
pub(crate) fn new_passphrase(typed: &str) -> Result<Option<&str>, ApiError> {
    if typed.is_empty() { Ok(None) } else { passphrase(typed).map(Some) }
}

/// A whole number that may be left out; separators of thousands are dropped.
pub(crate) fn count(field: &'static str, typed: &str) -> Result<Option<u32>, ApiError> {
    let digits: String = typed.chars().filter(|c| !matches!(c, ',' | ' ' | '\u{a0}')).collect();
    if digits.is_empty() {
        return Ok(None);
    }
    let number = Some(&digits).filter(|text| text.bytes().all(|byte| byte.is_ascii_digit()));
    let unknown = || ApiError::Unknown { what: field, value: typed.trim().to_owned() };
    number.and_then(|text| text.parse().ok()).ok_or_else(unknown).map(Some)
}

/// An amount that is paid, quoted or billed: not below zero, and bounded.
pub(crate) fn price(typed: &str, home: Option<Marks>) -> Result<Cents, ApiError> {
    Ok(Cents::price_at_home(typed, home)?)
}

/// The same; nothing for nothing.
pub(crate) fn price_or_nothing(typed: &str, home: Option<Marks>) -> Result<Cents, ApiError> {
    if typed.trim().is_empty() { Ok(Cents(0)) } else { price(typed, home) }
}

/// What is wrong, with the name of its field.
pub(crate) fn named<T>(place: &str, read: Result<T, ApiError>) -> Result<T, ApiError> {
    read.map_err(|error| ApiError::Field { place: place.to_owned(), error: Box::new(error) })
}

/// An appointment as a form sends it: a local day and time ("2026-11-28T14:30"), which gets the offset that this device has
/// on that day, or one with its offset (RFC 3339); or nothing. Kept to the minute with its offset.
pub(crate) fn appointment(clock: &dyn Clock, typed: &str) -> Result<String, ApiError> {
    let at = local_time("appointment", clock, typed)?;
    Ok(at.map(|at| at.format("%Y-%m-%dT%H:%M:00%:z").to_string()).unwrap_or_default())
}

/// A day and time as [`appointment`] reads it, of the field that it is typed in.
pub(crate) fn local_time(
    field: &'static str,
    clock: &dyn Clock,
    typed: &str,
) -> Result<Option<DateTime<FixedOffset>>, ApiError> {
    let typed = typed.trim();
    if typed.is_empty() {
        return Ok(None);
    }
    let refused = || ApiError::Refused(Refused::because("not_a_time").with("field", field));
    let read = ["%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S"].into_iter();
    let local = read.filter_map(|form| NaiveDateTime::parse_from_str(typed, form).ok()).next();
    let at = match local {
        Some(local) => {
            let offset = clock.offset_at(local).ok_or_else(refused)?;
            local.and_local_timezone(offset).single().ok_or_else(refused)?
        }
        None => DateTime::parse_from_rfc3339(typed).map_err(|_| refused())?,
    };
    // A year of five digits can't be read back.
    if !(1_000..=9_999).contains(&at.year()) {
        return Err(refused());
    }
    Ok(Some(at))
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

/// A photo of a job, by its hash.
pub(crate) fn photo_of(job: &job::Job, hash: &str) -> Result<evidence::Digest, ApiError> {
    let known = photos(&[hash.to_owned()])?.into_iter().find(|digest| job.photos.contains_key(digest));
    known.ok_or_else(|| ApiError::Unknown { what: "photo", value: hash.to_owned() })
}

/// A record's name.
pub(crate) fn record(hash: &str) -> Result<evidence::Digest, ApiError> {
    hash.parse().map_err(|_| ApiError::Unknown { what: "record", value: hash.to_owned() })
}
