//! What goes out to whom: the presets of `job::sharing`, changed line by line, shown before anything is written.

use crate::act::Loaded;
use crate::entry::PacketEntry;
use crate::view::{PhotoShareView, SharingView, ValueShareView};
use crate::{ApiError, Workshop, show};
use evidence::{Digest, Disclosure, Record};
use job::Recipient;
use job::event::CoveredCopy;
use job::sharing::PhotoShare;
use std::collections::BTreeMap;

/// Longest piece of a value that the preview shows.
const SHOWN: usize = 120;

/// What goes out, decided.
pub(crate) struct Sharing {
    pub recipient: Recipient,
    /// Every value of the job at hand, with the kind of its record.
    pub values: Vec<(String, Disclosure, bool)>,
    pub photos: BTreeMap<Digest, PhotoShare>,
}

impl Workshop {
    /// Exactly what a packet for this recipient would hand out; nothing is written.
    ///
    /// # Errors
    /// An unknown recipient, value or photo.
    pub fn packet_preview(&self, job: &str, entry: &PacketEntry) -> Result<SharingView, ApiError> {
        let loaded = self.load(job)?;
        let sharing = self.sharing(&loaded, entry)?;
        let (out, stay): (Vec<_>, Vec<_>) =
            self.reports_at_hand(&loaded.job).partition(|kept| kept.event.recipient == sharing.recipient);
        Ok(SharingView {
            recipient: sharing.recipient,
            values: sharing.values.iter().map(value_view).collect(),
            photos: sharing
                .photos
                .iter()
                .filter_map(|(digest, share)| self.photo_share(&loaded, digest, *share))
                .collect(),
            reports: out.into_iter().map(|kept| self.report_view(kept)).collect(),
            reports_withheld: u32::try_from(stay.len()).unwrap_or(u32::MAX),
        })
    }

    /// The preset with the technician's changes.
    pub(crate) fn sharing(&self, loaded: &Loaded, entry: &PacketEntry) -> Result<Sharing, ApiError> {
        let recipient = entry.recipient;
        let mut values = self.values_at_hand(&loaded.log.job)?;
        for (kind, disclosure, goes_out) in &mut values {
            *goes_out = job::sharing::receives(recipient, kind, disclosure.name());
        }
        for choice in &entry.values {
            let unknown = || ApiError::Unknown { what: "value", value: choice.digest.clone() };
            let named =
                |value: &&mut (String, Disclosure, bool)| value.1.digest().to_string() == choice.digest;
            values.iter_mut().find(named).ok_or_else(unknown)?.2 = choice.goes_out;
        }
        Ok(Sharing { recipient, values, photos: photo_shares(&loaded.job, recipient, entry)? })
    }

    /// Every value of a job that is still here, with the kind of its record, in the order of the records.
    pub(crate) fn values_at_hand(&self, job: &str) -> Result<Vec<(String, Disclosure, bool)>, ApiError> {
        let mut at_hand: BTreeMap<Digest, Disclosure> =
            self.store.disclosures(job)?.into_iter().map(|value| (value.digest(), value)).collect();
        let mut values = Vec::new();
        for stored in self.store.job_records(job)? {
            let Ok(record) = Record::parse(&stored.bytes) else { continue };
            let found = record.withheld.iter().filter_map(|digest| at_hand.remove(digest));
            values.extend(found.map(|value| (record.kind.clone(), value, true)));
        }
        Ok(values)
    }

    fn photo_share(&self, loaded: &Loaded, digest: &Digest, share: PhotoShare) -> Option<PhotoShareView> {
        Some(PhotoShareView {
            photo: show::photo(&loaded.job, digest)?,
            covered: loaded.job.covered_copy(digest).map(|copy| copy.sha256.to_string()).unwrap_or_default(),
            share,
            at_hand: self.store.original_path(digest).is_some(),
        })
    }
}

impl Sharing {
    /// Values that go out.
    pub fn disclosures(&self) -> Vec<Disclosure> {
        let out = self.values.iter().filter(|(_, _, goes_out)| *goes_out);
        out.map(|(_, value, _)| value.clone()).collect()
    }

    /// Does the original of a photo go out?
    pub fn lets_out(&self, photo: &Digest) -> bool {
        self.photos.get(photo) == Some(&PhotoShare::Original)
    }

    /// Covered copies that go out in place of their originals.
    pub fn covered<'j>(&self, job: &'j job::Job) -> Vec<&'j CoveredCopy> {
        let covered = self.photos.iter().filter(|(_, share)| **share == PhotoShare::Covered);
        covered.filter_map(|(photo, _)| job.covered_copy(photo)).collect()
    }

    /// What a report for this recipient shows in place of a photo.
    pub fn shown(&self, job: &job::Job, photo: &Digest) -> Option<Digest> {
        match self.photos.get(photo) {
            Some(PhotoShare::Covered) => job.covered_copy(photo).map(|copy| copy.sha256),
            Some(PhotoShare::Withheld) => None,
            Some(PhotoShare::Original) | None => Some(*photo),
        }
    }
}

fn photo_shares(
    job: &job::Job,
    recipient: Recipient,
    entry: &PacketEntry,
) -> Result<BTreeMap<Digest, PhotoShare>, ApiError> {
    let preset = |kept: &job::Kept<job::event::PhotoKept>| {
        let photo = kept.event.sha256;
        (photo, PhotoShare::preset(recipient, kept.event.purpose, job.covered_copy(&photo).is_some()))
    };
    let mut shares: BTreeMap<Digest, PhotoShare> = job.photos.values().map(preset).collect();
    for choice in &entry.photos {
        let unknown = || ApiError::Unknown { what: "photo", value: choice.photo.clone() };
        let photo: Digest = choice.photo.parse().map_err(|_| unknown())?;
        let share = choice.share;
        if share == PhotoShare::Covered && job.covered_copy(&photo).is_none() {
            return Err(ApiError::refused("no_covered_copy"));
        }
        *shares.get_mut(&photo).ok_or_else(unknown)? = share;
    }
    Ok(shares)
}

fn value_view((kind, value, goes_out): &(String, Disclosure, bool)) -> ValueShareView {
    let text = match value.value() {
        // A signature is a drawing: its path says nothing to a reader.
        _ if value.name() == "signature" => String::new(),
        serde_json::Value::String(text) => text.clone(),
        other => other.to_string(),
    };
    ValueShareView {
        digest: value.digest().to_string(),
        kind: kind.clone(),
        field: value.name().to_owned(),
        text: text.chars().take(SHOWN).collect(),
        goes_out: *goes_out,
    }
}
