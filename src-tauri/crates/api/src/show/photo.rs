use crate::view::{MarkView, PhotoView};
use ::job::Job;
use ::job::event::{PhotoMark, PhotoMarked};
use evidence::Digest;

/// A kept photo; `None` when its record isn't there.
pub(crate) fn photo(job: &Job, digest: &Digest) -> Option<PhotoView> {
    let kept = job.photos.get(digest)?;
    let event = &kept.event;
    let doubts = job.entry(&kept.record);
    Some(PhotoView {
        sha256: digest.to_string(),
        bytes: event.bytes.clone(),
        media_type: event.media_type.clone(),
        purpose: event.purpose,
        taken: event.taken.clone(),
        kept: kept.wall.clone(),
        width: event.width,
        height: event.height,
        has_preview: event.has_preview,
        live: event.live,
        doubts: doubts.map(|e| e.doubts.iter().map(|d| d.code().to_owned()).collect()).unwrap_or_default(),
        marks: job.marks.get(digest).map(|kept| marks(&kept.event)).unwrap_or_default(),
    })
}

fn marks(marked: &PhotoMarked) -> Vec<MarkView> {
    let view = |(mark, text): (&PhotoMark, &str)| MarkView {
        shape: mark.shape,
        tone: mark.tone,
        x: mark.x,
        y: mark.y,
        to_x: mark.to_x,
        to_y: mark.to_y,
        text: text.to_owned(),
    };
    marked.with_texts().map(view).collect()
}

/// Several photos, in the order of their hashes as given.
pub(crate) fn photos(job: &Job, digests: &[Digest]) -> Vec<PhotoView> {
    digests.iter().filter_map(|digest| photo(job, digest)).collect()
}
