//! Photos and their redacted derivatives against the records.

use std::collections::BTreeSet;

use super::ledger::Ledger;
use super::place;
use super::says::{Open, Proven, Wrong};
use super::verdict::{Code, Findings, PhotoCount};
use crate::{Digest, PhotoRef};

/// A picture's file: path, hash and extension by its name, hash and length by its bytes.
#[derive(Debug)]
pub struct Picture {
    pub path: String,
    pub named: Digest,
    pub extension: String,
    pub sha256: Digest,
    pub bytes: u64,
}

impl Picture {
    /// Says what is wrong with the file, compared with how a record names it.
    fn fits(&self, record: Option<&PhotoRef>, code: Code, findings: &mut Findings) -> bool {
        let what = match record {
            _ if self.named != self.sha256 => Wrong::PhotoBytes,
            None => Wrong::PhotoUnnamed,
            Some(record) if record.bytes != self.bytes => Wrong::PhotoLength,
            Some(record) if place::extension(&record.media_type) != self.extension => Wrong::PhotoType,
            Some(_) => return true,
        };
        findings.problem(code, &self.path, what);
        false
    }
}

/// Holds originals and derivatives against the records of all logs.
pub fn check(
    originals: &[Picture],
    derivatives: &[Picture],
    ledgers: &[&Ledger],
    findings: &mut Findings,
) -> PhotoCount {
    let named = |sha256: &Digest| ledgers.iter().find_map(|ledger| ledger.photos.get(sha256));
    let mut present = BTreeSet::new();
    for photo in originals {
        if photo.fits(named(&photo.named), Code::Photo, findings) {
            present.insert(photo.sha256);
        }
    }
    let stands_in = check_derivatives(derivatives, ledgers, findings);
    let all: BTreeSet<Digest> = ledgers.iter().flat_map(|ledger| ledger.photos.keys().copied()).collect();
    let redacted =
        all.iter().filter(|sha256| !present.contains(*sha256) && stands_in.contains(*sha256)).count();
    let absent = all.len().saturating_sub(present.len());
    let count =
        PhotoCount { present: present.len() as u64, absent: absent as u64, redacted: redacted as u64 };
    say(&count, !derivatives.is_empty(), findings);
    count
}

/// The originals that a good derivative stands in for.
fn check_derivatives(
    derivatives: &[Picture],
    ledgers: &[&Ledger],
    findings: &mut Findings,
) -> BTreeSet<Digest> {
    let mut originals = BTreeSet::new();
    for picture in derivatives {
        let redaction = ledgers.iter().find_map(|ledger| ledger.redactions.get(&picture.named));
        let photo = redaction.map(super::redaction::Redaction::photo);
        if !picture.fits(photo.as_ref(), Code::Redaction, findings) {
            continue;
        }
        let original = redaction.map(|redaction| redaction.original);
        let original =
            original.filter(|sha256| ledgers.iter().any(|ledger| ledger.photos.contains_key(sha256)));
        match original {
            Some(original) => drop(originals.insert(original)),
            None => findings.problem(Code::Redaction, &picture.path, Wrong::OriginalUnnamed),
        }
    }
    originals
}

fn say(count: &PhotoCount, has_derivatives: bool, findings: &mut Findings) {
    findings.proven_unless(Code::Photo, Proven::PhotosFit { photos: count.present });
    if has_derivatives {
        findings.proven_unless(Code::Redaction, Proven::CoveredFit { photos: count.redacted });
        findings.not_proven(Code::Redaction, None, Open::OnlyCovered);
    }
    let photos = count.absent.saturating_sub(count.redacted);
    if photos > 0 {
        findings.not_proven(Code::Photo, None, Open::PhotosLeftOut { photos });
    }
}
