//! Signatures that lie beside the log, one for each head that was signed as its record was sealed.
//!
//! `signatures.txt` holds a line for each: the size of the log, a blank, the raw Ed25519 signature (RFC 8032) in standard
//! base64, a line feed; sorted by size. What is signed is the text of the checkpoint over that many records
//! ([`Checkpoint::text`]): origin and root are worked out, so they aren't written down.

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD as BASE64;
use rayon::prelude::*;

use super::keys::Keys;
use super::ledger::Ledger;
use super::verdict::Stretch;
use crate::{Checkpoint, EvidenceError, PublicKey};

/// Size of the log, and the signature over its checkpoint.
pub type Head = (u64, [u8; 64]);

/// The text of the file.
pub fn text(heads: &[Head]) -> String {
    heads.iter().map(|(size, signature)| format!("{size} {}\n", BASE64.encode(signature))).collect()
}

/// Reads the file; refuses every other spelling, and sizes that don't go up.
pub fn parse(text: &str) -> Option<Vec<Head>> {
    let line = |line: &str| {
        let (size, signature) = line.split_once(' ')?;
        Some((size.parse().ok()?, BASE64.decode(signature).ok()?.try_into().ok()?))
    };
    let heads: Vec<Head> = text.lines().map(line).collect::<Option<_>>()?;
    let rising = heads.iter().zip(heads.iter().skip(1)).all(|((a, _), (b, _))| a < b);
    let starts = heads.first().is_some_and(|(size, _)| *size > 0);
    (rising && starts && self::text(&heads) == text).then_some(heads)
}

/// The first signature that doesn't fit root and key at its size; none if all do.
///
/// Each is checked alone and strictly: a batch would take a signature that another program refuses (RFC 8032 leaves the
/// cofactor open).
pub fn first_wrong(heads: &[Head], ledger: &Ledger, origin: &str, keys: &Keys) -> Option<u64> {
    let fits = |(size, signature): &Head| {
        let (root, key) = (ledger.tree.root_at(*size)?, keys.at(*size)?);
        let checkpoint = Checkpoint { origin: origin.to_owned(), size: *size, root };
        verify(key, &checkpoint, signature).ok()
    };
    heads.par_iter().find_first(|head| fits(head).is_none()).map(|(size, _)| *size)
}

/// The text of the file for the writer; none if no head was signed by itself.
///
/// # Errors
/// [`EvidenceError::BadContents`] for sizes that don't go up and signatures that don't fit.
pub fn checked(
    heads: &[Head],
    ledger: &Ledger,
    origin: &str,
    keys: &Keys,
) -> Result<Option<String>, EvidenceError> {
    if heads.is_empty() {
        return Ok(None);
    }
    let (text, bad) = (text(heads), |what: String| Err(EvidenceError::BadContents(what)));
    if parse(&text).is_none() {
        return bad(format!("the signatures of {origin} are not in order of size"));
    }
    match first_wrong(heads, ledger, origin, keys) {
        None => Ok(Some(text)),
        Some(size) => bad(format!("the signature over {size} records of {origin} does not fit")),
    }
}

fn verify(key: &PublicKey, checkpoint: &Checkpoint, signature: &[u8; 64]) -> Result<(), EvidenceError> {
    key.verify(checkpoint.text().as_bytes(), signature)
}

/// The stretches of records that were signed one by one. The record whose sealing made the log `size` records long is
/// number `size`, counted from 1.
pub fn stretches(sizes: &[u64]) -> Vec<Stretch> {
    let mut stretches: Vec<Stretch> = Vec::new();
    for &size in sizes {
        match stretches.last_mut() {
            Some(Stretch { last, .. }) if last.saturating_add(1) == size => *last = size,
            _ => stretches.push(Stretch { first: size, last: size }),
        }
    }
    stretches
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_is_one_way_to_write_the_file() {
        let heads = vec![(1, [7; 64]), (2, [8; 64]), (9, [9; 64])];
        let good = text(&heads);
        assert_eq!(parse(&good), Some(heads));
        let (one, rest) = good.split_once('\n').unwrap();
        for wrong in [
            String::new(),
            good.trim_end().to_owned(),
            good.replace('\n', "\r\n"),
            format!("{rest}{one}\n"),
            format!("{one}\n{good}"),
            good.replacen("1 ", "01 ", 1),
            good.replacen("1 ", "+1 ", 1),
            good.replacen("1 ", "0 ", 1),
            good.replacen("==", "", 1),
            good.replacen(' ', "  ", 1),
        ] {
            assert_eq!(parse(&wrong), None, "{wrong:?}");
        }
    }

    #[test]
    fn stretches_are_told_apart_by_their_gaps() {
        let found = stretches(&[1, 2, 3, 7, 9, 10]);
        let pairs: Vec<_> = found.iter().map(|stretch| (stretch.first, stretch.last)).collect();
        assert_eq!(pairs, [(1, 3), (7, 7), (9, 10)]);
        assert_eq!(stretches(&[]), []);
    }
}
