//! Photos whose files lie here without a record: the app was ended between the two. They are offered, never taken for granted
//! and never thrown away by themselves.

use super::photos::{photo_kept, taken};
use crate::entry::{Form, FoundPhotoEntry};
use crate::view::{FoundPhotoView, JobView};
use crate::{ApiError, Workshop};
use evidence::{Digest, Record};
use job::Event;
use job::event::{PhotoKept, PhotoRedacted, RecordKind};
use photo::{Facts, Preview};
use std::collections::BTreeSet;

impl Workshop {
    /// Photos that were taken and are on no job.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn found_photos(&self) -> Result<Vec<FoundPhotoView>, ApiError> {
        // A photo that is being kept this moment has a file and no record yet: the turn is over when it has both.
        let _turn = self.store.turn();
        let found = self.without_record()?;
        Ok(found.into_iter().map(|(digest, bytes, facts)| view(&digest, bytes, &facts)).collect())
    }

    /// Puts a found photo on a job, with a record that says that it was found later.
    ///
    /// # Errors
    /// A photo that isn't among the found ones; as [`Workshop::photo_keep`].
    pub fn found_photo_attach(
        &self,
        form: impl Into<Form>,
        entry: &FoundPhotoEntry,
    ) -> Result<JobView, ApiError> {
        self.act(&form.into(), |_| {
            let (digest, bytes, facts) = self.one_found(&entry.sha256)?;
            let kept = photo_kept(digest, bytes, entry.purpose, &facts);
            Ok(Event::PhotoKept(PhotoKept { found_later: true, ..kept }))
        })
    }

    /// Throws a found photo away: its file and its previews are destroyed.
    ///
    /// # Errors
    /// A photo that isn't among the found ones; a backup or an export being written.
    pub fn found_photo_destroy(&self, sha256: &str) -> Result<Vec<FoundPhotoView>, ApiError> {
        {
            let _turn = self.store.turn();
            let (digest, ..) = self.one_found(sha256)?;
            self.store.destroy_unattached(&digest)?;
        }
        self.found_photos()
    }

    fn one_found(&self, sha256: &str) -> Result<(Digest, usize, Facts), ApiError> {
        let found = self.without_record()?.into_iter().find(|(digest, ..)| digest.to_string() == sha256);
        found.ok_or_else(|| ApiError::Unknown { what: "photo", value: sha256.to_owned() })
    }

    /// By hash: size and facts of what lies here, is a sound picture, and is named by no record in any way.
    fn without_record(&self) -> Result<Vec<(Digest, usize, Facts)>, ApiError> {
        let unattached = self.store.unattached_originals()?;
        if unattached.is_empty() {
            return Ok(Vec::new());
        }
        let copies = self.copies_of_all_jobs()?;
        let picture = |digest: Digest| {
            let bytes = self.store.original(&digest).ok()?;
            // Reports are kept beside the photos; they are no pictures.
            Some((digest, bytes.len(), self.inspect(&bytes).ok()?))
        };
        Ok(unattached.into_iter().filter(|digest| !copies.contains(digest)).filter_map(picture).collect())
    }

    /// Copies that stand in for photos are kept beside them, and their records name them in the body alone.
    fn copies_of_all_jobs(&self) -> Result<BTreeSet<Digest>, ApiError> {
        let records = self.store.records_of_kind(PhotoRedacted::DESCRIPTOR.kind)?;
        let named = records.iter().filter_map(|bytes| Record::parse(bytes).ok()).flat_map(|record| {
            let redactions = record.body.get("redactions").and_then(|list| list.as_array()).cloned();
            redactions.unwrap_or_default()
        });
        Ok(named.filter_map(|copy| copy.get("sha256")?.as_str()?.parse().ok()).collect())
    }
}

fn view(digest: &Digest, bytes: usize, facts: &Facts) -> FoundPhotoView {
    let size = facts.upright_size();
    FoundPhotoView {
        sha256: digest.to_string(),
        bytes: bytes.to_string(),
        media_type: facts.kind.media_type().to_owned(),
        taken: facts.taken.map(taken).unwrap_or_default(),
        width: size.map_or(0, |size| size.width),
        height: size.map_or(0, |size| size.height),
        has_preview: facts.preview == Preview::Possible,
    }
}
