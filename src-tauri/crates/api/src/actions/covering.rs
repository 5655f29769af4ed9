//! Covered copies of photos: faces and plates painted over, the original untouched.

use crate::entry::{AreaEntry, CoverEntry, Form};
use crate::view::JobView;
use crate::{ApiError, Workshop, typed};
use job::Event;
use job::event::{CopyChange, CoveredArea, CoveredCopy, PhotoRedacted};

impl Workshop {
    /// Makes a copy of a photo in which areas are covered, keeps it and seals which original it was made from.
    ///
    /// # Errors
    /// A photo that isn't the job's or can't be decoded here (HEIC); no area, or one outside the picture.
    pub fn photo_cover(&self, form: impl Into<Form>, entry: &CoverEntry) -> Result<JobView, ApiError> {
        let areas: Vec<photo::Area> = entry.areas.iter().map(area).collect();
        // Under the lock from the look at the original to the record: a customer who is forgotten meanwhile must not leave
        // a copy behind.
        self.act(&form.into(), |loaded| {
            let original = typed::photo_of(&loaded.job, &entry.photo)?;
            let covered = photo::redact(&self.store.original(&original)?, &areas)?;
            let copy = CoveredCopy {
                original,
                sha256: self.store.keep_original(&covered, photo::Kind::Jpeg.extension())?,
                bytes: u64::try_from(covered.len()).unwrap_or(u64::MAX),
                media_type: photo::Kind::Jpeg.media_type().to_owned(),
                areas: entry.areas.iter().map(sealed).collect(),
                change: CopyChange::AreasCovered,
                marks: None,
            };
            Ok(Event::PhotoRedacted(PhotoRedacted { redactions: vec![copy] }))
        })
    }
}

const fn area(entry: &AreaEntry) -> photo::Area {
    photo::Area { left: entry.left, top: entry.top, width: entry.width, height: entry.height }
}

const fn sealed(entry: &AreaEntry) -> CoveredArea {
    CoveredArea { left: entry.left, top: entry.top, width: entry.width, height: entry.height }
}
