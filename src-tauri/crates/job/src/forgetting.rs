//! Forgetting a customer: what goes at once, what the duty to keep records holds back, and until when.
//!
//! A record is never changed: it holds only salted digests of what is personal. Forgetting destroys the values, the
//! salts and the files; after that nobody can tell from a digest what it was.

use crate::event::{CoveredCopy, CustomerForgotten, Event, KeptBack, PhotoPurpose, descriptor_of};
use crate::rules::RegionRules;
use crate::{Job, KeptRecord};
use chrono::{DateTime, Months, NaiveDate};
use evidence::Digest;
use std::collections::BTreeSet;

/// What forgetting would destroy and what it would leave.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Forgetting {
    /// Digests of the values that go, with kind of record and field.
    pub values: Vec<(Digest, String, String)>,
    /// Photos, covered copies and reports that go.
    pub files: Vec<Digest>,
    /// Fields that stay, and why.
    pub kept: BTreeSet<KeptBack>,
    /// Day from which they may go too; nothing when nothing stays.
    pub until: Option<NaiveDate>,
    /// Region whose rule was applied.
    pub region: String,
}

impl Forgetting {
    /// What forgetting would do on a day. `values` lists every value at hand: digest, kind of record, field; `here` says
    /// which files still are: an earlier forgetting may have been cut off between its record and their end.
    #[must_use]
    pub fn plan(
        job: &Job,
        values: &[(Digest, String, String)],
        rules: &RegionRules,
        today: NaiveDate,
        here: &dyn Fn(&Digest) -> bool,
    ) -> Self {
        let until = kept_until(job, rules).filter(|until| today < *until);
        let held = |kind: &str, field: &str| {
            until.is_some() && descriptor_of(kind).is_some_and(|descriptor| descriptor.retained(field))
        };
        let mut plan = Self {
            values: Vec::new(),
            files: files(job, until.is_some()).into_iter().filter(here).collect(),
            kept: BTreeSet::new(),
            until,
            region: rules.region.clone(),
        };
        for (digest, kind, field) in values {
            if held(kind, field) {
                let why = "retention".to_owned();
                plan.kept.insert(KeptBack { kind: kind.clone(), field: field.clone(), why });
            } else {
                plan.values.push((*digest, kind.clone(), field.clone()));
            }
        }
        if plan.kept.is_empty() {
            plan.until = None;
        }
        plan
    }

    /// The record of it.
    #[must_use]
    pub fn event(&self) -> Event {
        Event::CustomerForgotten(CustomerForgotten {
            values: self.values.iter().map(|(digest, ..)| *digest).collect(),
            files: self.files.clone(),
            kept: self.kept.iter().cloned().collect(),
            until: self.until.map(|day| day.to_string()).unwrap_or_default(),
            region: self.region.clone(),
        })
    }

    /// True when there is nothing to destroy.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.values.is_empty() && self.files.is_empty()
    }
}

/// Years are counted from the hand-over, or from the last record while the vehicle is still here.
fn kept_until(job: &Job, rules: &RegionRules) -> Option<NaiveDate> {
    let from = job.handed_over.as_ref().map_or(job.changed_wall.as_str(), |kept| kept.wall.as_str());
    let from = DateTime::parse_from_rfc3339(from).ok()?.date_naive();
    from.checked_add_months(Months::new(rules.keeps_years.checked_mul(12)?))
}

/// Reports go at once, since they print plates and names and can be written again without them. Photos of the arrival
/// and of papers go at once; photos that prove a reading stay as long as records must be kept.
fn files(job: &Job, records_stay: bool) -> Vec<Digest> {
    let personal = |purpose: PhotoPurpose| {
        !records_stay || matches!(purpose, PhotoPurpose::Arrival | PhotoPurpose::Identity)
    };
    let photos =
        job.photos.values().filter(|kept| personal(kept.event.purpose)).map(|kept| kept.event.sha256);
    let mut files: BTreeSet<Digest> = photos.collect();
    // A copy with marks shows their texts, which go at once; it can be made again without them.
    let goes = |copy: &&CoveredCopy| files.contains(&copy.original) || copy.marks.is_some();
    let copies = job.covered_copies().filter(goes).map(|copy| copy.sha256);
    let copies: Vec<Digest> = copies.collect();
    files.extend(copies);
    files.extend(job.reports.iter().map(|kept| kept.event.sha256));
    // Nobody can tell what the photos of a record that can't be used show.
    files.extend(job.unusable().chain(job.not_vouched()).flat_map(|entry| &entry.photos));
    files.into_iter().collect()
}

/// Every value at hand of a job's records: digest, kind of record, field.
#[must_use]
pub fn values_at_hand(
    records: &[KeptRecord],
    name: impl Fn(&Digest) -> Option<String>,
) -> Vec<(Digest, String, String)> {
    let of_record = |kept: &KeptRecord| {
        let kind = kept.record.kind.clone();
        let named = kept.record.withheld.iter().filter_map(|digest| Some((*digest, name(digest)?)));
        named.map(|(digest, field)| (digest, kind.clone(), field)).collect::<Vec<_>>()
    };
    records.iter().flat_map(of_record).collect()
}
