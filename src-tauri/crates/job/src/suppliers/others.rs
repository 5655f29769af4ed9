//! Whose business is whose: what one supplier reads must not tell the prices of another.

use super::{SupplierAccount, accounts, same};
use crate::Job;
use crate::event::PhotoPurpose;
use evidence::Digest;
use money::MoneyError;
use std::collections::BTreeSet;

/// What is about other suppliers than one, and is none of that one's business.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OfOthers {
    /// Records: their quotes, bills, payments, parts.
    pub records: BTreeSet<Digest>,
    /// Photos that only those records name, and suppliers' papers of which nothing says whose they are.
    pub photos: BTreeSet<Digest>,
}

/// The account meant by a name; without a name the one whose bill differs most from what was agreed.
#[must_use]
pub fn meant<'a>(accounts: &'a [SupplierAccount], name: &str) -> Option<&'a SupplierAccount> {
    if name.is_empty() {
        accounts.iter().max_by_key(|account| account.over_expected.0.saturating_abs())
    } else {
        accounts.iter().find(|account| same(&account.supplier, name))
    }
}

/// Suppliers' papers that no record names. Where a job has one supplier they can only be theirs; where it has more, nothing
/// says whose they are but the paper itself, and nobody gets them.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn loose_papers(job: &Job) -> Result<(BTreeSet<Digest>, bool), MoneyError> {
    let named: BTreeSet<Digest> = job
        .timeline
        .iter()
        .filter(|record| record.kind != "photo_kept")
        .flat_map(|record| record.photos.clone())
        .collect();
    let papers = job.photos.values().filter(|kept| matches!(kept.event.purpose, PhotoPurpose::SupplierPaper));
    let loose = papers.map(|kept| kept.event.sha256).filter(|photo| !named.contains(photo)).collect();
    Ok((loose, accounts(job)?.len() > 1))
}

/// What is about other suppliers than the one of that name.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn of_others(job: &Job, supplier: &str) -> Result<OfOthers, MoneyError> {
    let (own, others): (Vec<_>, Vec<_>) =
        accounts(job)?.into_iter().partition(|account| same(&account.supplier, supplier));
    let records_of =
        |all: &[SupplierAccount]| all.iter().flat_map(|one| &one.lines).map(|line| line.record).collect();
    let (own, others): (BTreeSet<Digest>, BTreeSet<Digest>) = (records_of(&own), records_of(&others));
    let photos_of = |records: &BTreeSet<Digest>| -> BTreeSet<Digest> {
        let entries = job.timeline.iter().filter(|entry| records.contains(&entry.record));
        entries.flat_map(|entry| entry.photos.clone()).collect()
    };
    let mut photos: BTreeSet<Digest> = photos_of(&others).difference(&photos_of(&own)).copied().collect();
    let (loose, nobodys) = loose_papers(job)?;
    if nobodys {
        photos.extend(loose);
    }
    Ok(OfOthers { records: others, photos })
}
