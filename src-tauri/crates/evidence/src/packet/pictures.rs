//! Photos and their redacted derivatives against the records.

use std::collections::{BTreeMap, BTreeSet};

use super::ledger::Ledger;
use super::place;
use super::redaction::Redaction;
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
    let absent: Vec<&Digest> = all.iter().filter(|sha256| !present.contains(*sha256)).collect();
    let shown: Vec<&bool> = absent.iter().filter_map(|sha256| stands_in.get(*sha256)).collect();
    let missing: Vec<&String> = absent
        .iter()
        .filter(|sha256| !stands_in.contains_key(*sha256))
        .filter_map(|sha256| ledgers.iter().find_map(|ledger| ledger.missing.get(*sha256)))
        .collect();
    let count = PhotoCount {
        present: present.len() as u64,
        absent: absent.len() as u64,
        redacted: shown.len() as u64,
        stripped: shown.iter().filter(|stripped| ***stripped).count() as u64,
        missing: missing.len() as u64,
    };
    say(&count, missing.into_iter().min(), findings);
    count
}

/// The originals that a good derivative stands in for, and whether it only lacks what the file carried besides the picture.
fn check_derivatives(
    derivatives: &[Picture],
    ledgers: &[&Ledger],
    findings: &mut Findings,
) -> BTreeMap<Digest, bool> {
    let mut originals = BTreeMap::new();
    let mut marked = BTreeSet::new();
    for picture in derivatives {
        let redaction = ledgers.iter().find_map(|ledger| ledger.redactions.get(&picture.named));
        let code =
            if redaction.is_some_and(Redaction::is_stripped) { Code::Stripped } else { Code::Redaction };
        let photo = redaction.map(Redaction::photo);
        if !picture.fits(photo.as_ref(), code, findings) {
            continue;
        }
        let made_from = |sha256: &Digest| ledgers.iter().any(|ledger| ledger.photos.contains_key(sha256));
        match redaction.filter(|redaction| made_from(&redaction.original)) {
            Some(redaction) if redaction.is_marked() => {
                marked.insert(redaction.original);
            }
            Some(redaction) => {
                // Where both lie here, the claim is the weaker one.
                let stripped = originals.entry(redaction.original).or_insert(true);
                *stripped = *stripped && redaction.is_stripped();
            }
            None => findings.problem(code, &picture.path, Wrong::OriginalUnnamed),
        }
    }
    // A copy with marks says nothing of the one beside it; alone, no more is claimed than that it isn't the original.
    for original in marked {
        originals.entry(original).or_insert(false);
    }
    originals
}

fn say(count: &PhotoCount, missing_since: Option<&String>, findings: &mut Findings) {
    findings.proven_unless(Code::Photo, Proven::PhotosFit { photos: count.present });
    let covered = count.redacted.saturating_sub(count.stripped);
    if covered > 0 {
        findings.proven_unless(Code::Redaction, Proven::CoveredFit { photos: covered });
        findings.not_proven(Code::Redaction, None, Open::OnlyCovered);
    }
    if count.stripped > 0 {
        findings.proven_unless(Code::Stripped, Proven::StrippedFit { photos: count.stripped });
        findings.not_proven(Code::Stripped, None, Open::OnlyStripped);
    }
    if let Some(since) = missing_since {
        let lost = Open::PhotosLost { photos: count.missing, since: since.clone() };
        findings.not_proven(Code::PhotoMissing, None, lost);
    }
    let photos = count.absent.saturating_sub(count.redacted).saturating_sub(count.missing);
    if photos > 0 {
        findings.not_proven(Code::Photo, None, Open::PhotosLeftOut { photos });
    }
}
