//! Marks on photos: data beside the original, drawn into copies and into reports. The original is never drawn on.

use super::sharing::Sharing;
use crate::act::{Loaded, Settles};
use crate::entry::{Form, MarkEntry, MarksEntry};
use crate::view::JobView;
use crate::{ApiError, Workshop, typed};
use evidence::Digest;
use job::event::{
    CopyChange, CoveredArea, CoveredCopy, MOST_LETTERS, MOST_MARKS, MarkShape, MarkTone, PhotoMark,
    PhotoMarked, PhotoRedacted,
};
use job::sharing::PhotoShare;
use job::{Event, Job};

/// JPEG quality of a copy with marks.
const QUALITY: u8 = 85;

// What may stand on record is what can be drawn.
const _: () = assert!(MOST_MARKS == photo::MOST_MARKS && MOST_LETTERS == photo::MOST_LETTERS);

impl Workshop {
    /// Seals the marks on a photo as they stand now; with none, those on record are taken off.
    ///
    /// # Errors
    /// A photo that isn't the job's; too many marks, one off the picture, a text that is blank, too long or not one line;
    /// the marks that are on record already.
    pub fn photo_mark(&self, form: impl Into<Form>, entry: &MarksEntry) -> Result<JobView, ApiError> {
        let (marks, texts) = typed_marks(&entry.marks)?;
        self.act(&form.into(), |loaded| {
            let photo = typed::photo_of(&loaded.job, &entry.photo)?;
            let marked = PhotoMarked { photo, marks, texts };
            let before = loaded.job.marks.get(&photo).map(|kept| &kept.event);
            let same = before.map_or(marked.marks.is_empty(), |before| *before == marked);
            if same { Err(ApiError::refused("marks_unchanged")) } else { Ok(Event::PhotoMarked(marked)) }
        })
    }

    /// Makes and seals the copies with marks that go out and aren't there yet, in one record. The caller holds the turn.
    pub(crate) fn keep_marked(&self, loaded: &mut Loaded, sharing: &Sharing) -> Result<(), ApiError> {
        let mut copies = Vec::new();
        for (original, share) in &sharing.photos {
            copies.extend(self.marked_anew(loaded, original, *share)?);
        }
        if copies.is_empty() {
            return Ok(());
        }
        self.admit(loaded, &Event::PhotoRedacted(PhotoRedacted { redactions: copies }), &Settles::default())
    }

    /// The copy where no record names one whose bytes are here. A lost one is made again: it comes out the same.
    fn marked_anew(
        &self,
        loaded: &Loaded,
        original: &Digest,
        share: PhotoShare,
    ) -> Result<Option<CoveredCopy>, ApiError> {
        let job = &loaded.job;
        let Some((source, covered)) = source(job, original, share) else { return Ok(None) };
        let Some(marks) = job.marks_on(original) else { return Ok(None) };
        let known = job.marked_copy(original, &marks.record, &covered).map(|copy| copy.sha256);
        if known.is_some_and(|copy| self.examine_anew(&copy).is_here()) {
            return Ok(None);
        }
        let bytes = self.store.original(&source)?;
        let drawn = match draw(job, original, &bytes, (photo::REDACTED_SIDE, QUALITY), &covered) {
            // What can't be shown here (HEIC) can't be drawn on here either; it goes out as it is.
            Err(photo::PhotoError::NoPreview(_)) => return Ok(None),
            drawn => drawn?,
        };
        let sha256 = self.store.keep_original(&drawn, photo::Kind::Jpeg.extension())?;
        let copy = CoveredCopy {
            original: *original,
            sha256,
            bytes: u64::try_from(drawn.len()).unwrap_or(u64::MAX),
            media_type: photo::Kind::Jpeg.media_type().to_owned(),
            areas: covered,
            change: CopyChange::MarksDrawn,
            marks: Some(marks.record),
        };
        Ok((known != Some(sha256)).then_some(copy))
    }

    /// A small picture of a photo with the marks that `job` knows, for paper.
    pub(crate) fn marked_picture(
        &self,
        job: &Job,
        original: &Digest,
        source: &Digest,
        covered: &[CoveredArea],
        paper: (u32, u8),
    ) -> Option<Vec<u8>> {
        draw(job, original, &self.store.original(source).ok()?, paper, covered).ok()
    }
}

/// What marks are drawn into for a share, and what is covered again above them. Where areas are covered, that is the covered
/// copy: what lies under them is in no byte of it.
pub(super) fn source(job: &Job, original: &Digest, share: PhotoShare) -> Option<(Digest, Vec<CoveredArea>)> {
    match share {
        PhotoShare::Original | PhotoShare::Stripped => Some((*original, Vec::new())),
        PhotoShare::Covered => job.covered_copy(original).map(|copy| (copy.sha256, copy.areas.clone())),
        PhotoShare::Withheld => None,
    }
}

impl Sharing {
    /// Copies with marks: beside each photo that goes out and has marks.
    pub fn marked_copies<'j>(&self, job: &'j Job) -> impl Iterator<Item = &'j CoveredCopy> {
        self.photos.iter().filter_map(|(photo, share)| {
            let (_, covered) = source(job, photo, *share)?;
            job.marked_copy(photo, &job.marks_on(photo)?.record, &covered)
        })
    }
}

fn draw(
    job: &Job,
    original: &Digest,
    bytes: &[u8],
    (side, quality): (u32, u8),
    covered: &[CoveredArea],
) -> Result<Vec<u8>, photo::PhotoError> {
    let marks = job.marks_on(original).into_iter().flat_map(|kept| kept.event.with_texts());
    let marks: Vec<photo::Mark> = marks.filter_map(|(mark, text)| drawn(mark, text)).collect();
    let covered: Vec<photo::Area> = covered.iter().map(area).collect();
    photo::marked(bytes, side, quality, &marks, &covered, report::LETTERS)
}

/// A mark as it is drawn; `None` for a text that is withheld here.
fn drawn(mark: &PhotoMark, text: &str) -> Option<photo::Mark> {
    let spot = |x: u32, y: u32| photo::Spot { x, y };
    let shape = match mark.shape {
        MarkShape::Arrow => {
            photo::MarkShape::Arrow { from: spot(mark.x, mark.y), tip: spot(mark.to_x, mark.to_y) }
        }
        MarkShape::Ellipse => photo::MarkShape::Ellipse(photo::Area {
            left: mark.x,
            top: mark.y,
            width: mark.to_x.checked_sub(mark.x)?,
            height: mark.to_y.checked_sub(mark.y)?,
        }),
        MarkShape::Text => photo::MarkShape::Text { at: spot(mark.x, mark.y), text: text.to_owned() },
    };
    let tone = match mark.tone {
        MarkTone::Cold => photo::MarkTone::Cold,
        MarkTone::Lamp => photo::MarkTone::Lamp,
        MarkTone::Ink => photo::MarkTone::Ink,
    };
    Some(photo::Mark { shape, tone }).filter(photo::Mark::is_inside)
}

const fn area(covered: &CoveredArea) -> photo::Area {
    photo::Area { left: covered.left, top: covered.top, width: covered.width, height: covered.height }
}

/// Marks as they go on record: geometry apart from texts, each refusal in its own words.
fn typed_marks(entries: &[MarkEntry]) -> Result<(Vec<PhotoMark>, Vec<String>), ApiError> {
    if entries.len() > MOST_MARKS {
        return Err(ApiError::refused("too_many_marks"));
    }
    let mut texts = Vec::new();
    for entry in entries.iter().filter(|entry| entry.shape == MarkShape::Text) {
        let text = entry.text.trim();
        if text.is_empty() {
            return Err(ApiError::refused("mark_without_text"));
        }
        if !photo::is_line(text) {
            return Err(ApiError::refused("mark_text_too_long"));
        }
        texts.push(text.to_owned());
    }
    let marks = entries.iter().map(|entry| {
        let MarkEntry { shape, tone, x, y, to_x, to_y, .. } = *entry;
        // A text has one place; whatever the screen sends for the other would be of no meaning on record.
        let (to_x, to_y) = if shape == MarkShape::Text { (x, y) } else { (to_x, to_y) };
        PhotoMark { shape, tone, x, y, to_x, to_y }
    });
    let marks: Vec<PhotoMark> = marks.collect();
    let off = |mark: &PhotoMark| drawn(mark, "-").is_none();
    if marks.iter().any(off) { Err(ApiError::refused("mark_off_picture")) } else { Ok((marks, texts)) }
}
