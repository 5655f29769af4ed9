//! Copies of photos that go out in their place or beside them, and the marks that are drawn into some.

use crate::Job;
use crate::event::{CopyChange, CoveredArea, CoveredCopy, PhotoMarked};
use crate::fold::Kept;
use evidence::Digest;

impl Job {
    /// The newest copy of a photo with covered areas.
    pub fn covered_copy(&self, original: &Digest) -> Option<&CoveredCopy> {
        self.copy_of(original, CopyChange::AreasCovered)
    }

    /// The newest copy of a photo without what its file carried besides the picture.
    pub fn stripped_copy(&self, original: &Digest) -> Option<&CoveredCopy> {
        self.copy_of(original, CopyChange::MetadataRemoved)
    }

    /// The marks that are on a photo now, where there are any.
    pub fn marks_on(&self, photo: &Digest) -> Option<&Kept<PhotoMarked>> {
        self.marks.get(photo).filter(|kept| !kept.event.marks.is_empty())
    }

    /// The newest copy of a photo into which just these marks were drawn, and just these areas covered above them.
    pub fn marked_copy(
        &self,
        original: &Digest,
        marks: &Digest,
        covered: &[CoveredArea],
    ) -> Option<&CoveredCopy> {
        self.covered_copies().rev().find(|copy| {
            copy.original == *original
                && copy.change == CopyChange::MarksDrawn
                && copy.marks == Some(*marks)
                && copy.areas == covered
        })
    }

    fn copy_of(&self, original: &Digest, change: CopyChange) -> Option<&CoveredCopy> {
        self.covered_copies().rev().find(|copy| copy.original == *original && copy.change == change)
    }

    /// Every copy that goes out in place of an original, oldest first.
    pub fn covered_copies(&self) -> impl DoubleEndedIterator<Item = &CoveredCopy> {
        self.covered.iter().flat_map(|kept| &kept.event.redactions)
    }
}
