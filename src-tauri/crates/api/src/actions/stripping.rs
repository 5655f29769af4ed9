//! Copies of photos without what the camera saved beside the picture: made when they first go out.

use super::sharing::Sharing;
use crate::act::{Loaded, Settles};
use crate::{ApiError, Workshop};
use evidence::Digest;
use job::Event;
use job::event::{CopyChange, CoveredCopy, PhotoRedacted};

impl Workshop {
    /// Makes and seals the copies that go out and aren't there yet, in one record: once a photo. The caller holds the turn.
    pub(crate) fn keep_stripped(&self, loaded: &mut Loaded, sharing: &Sharing) -> Result<(), ApiError> {
        let mut copies = Vec::new();
        for original in sharing.stripped() {
            copies.extend(self.stripped_anew(loaded, original)?);
        }
        if copies.is_empty() {
            return Ok(());
        }
        self.admit(loaded, &Event::PhotoRedacted(PhotoRedacted { redactions: copies }), &Settles::default())
    }

    /// The copy where no record names one whose bytes are here. A lost one is made again: it comes out the same.
    fn stripped_anew(&self, loaded: &Loaded, original: &Digest) -> Result<Option<CoveredCopy>, ApiError> {
        let known = loaded.job.stripped_copy(original).map(|copy| copy.sha256);
        if known.is_some_and(|copy| self.examine_anew(&copy).is_here()) {
            return Ok(None);
        }
        let bytes = self.store.original(original)?;
        let kind = photo::Kind::of(&bytes);
        let stripped = photo::without_metadata(&bytes)?;
        let sha256 = self.store.keep_original(&stripped, kind.extension())?;
        let copy = CoveredCopy {
            original: *original,
            sha256,
            bytes: u64::try_from(stripped.len()).unwrap_or(u64::MAX),
            media_type: kind.media_type().to_owned(),
            areas: Vec::new(),
            change: CopyChange::MetadataRemoved,
            marks: None,
        };
        Ok((known != Some(sha256)).then_some(copy))
    }
}
