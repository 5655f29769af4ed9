//! The list of photos with their hashes.

use super::pictures::{LeftOut, Pictures};
use super::wording::Wording;
use super::wording::photos_in_order;
use crate::FindingsInput;
use evidence::Digest;
use job::event::PhotoKept;
use job::{Job, Kept};
use serde::Serialize;

/// One photo.
#[derive(Serialize)]
pub(crate) struct PhotoRow {
    title: String,
    lines: Vec<String>,
    sha256: String,
    /// What stands in the picture's place when the original is lost; empty when it isn't.
    missing: String,
    picture: Option<String>,
    alt: String,
}

pub(super) fn rows(input: &FindingsInput, wording: &Wording, pictures: &Pictures) -> Vec<PhotoRow> {
    let job: &Job = input.job;
    let kept = photos_in_order(job).into_iter().filter_map(|digest| Some((digest, job.photos.get(&digest)?)));
    let row = |(digest, kept): (Digest, &Kept<PhotoKept>)| {
        let since = input.missing_photos.get(&digest).map(|since| wording.date(since)).unwrap_or_default();
        row(&digest, kept, &since, job.marks_on(&digest).is_some(), wording, pictures)
    };
    kept.map(row).collect()
}

fn row(
    digest: &Digest,
    kept: &Kept<PhotoKept>,
    missing_since: &str,
    has_marks: bool,
    wording: &Wording,
    pictures: &Pictures,
) -> PhotoRow {
    let number = wording.photo(digest).unwrap_or_default().to_string();
    let purpose = wording.code_of("purpose", &kept.event.purpose);
    let values = [("number", number.as_str()), ("purpose", purpose.as_str())];
    let missing = wording.say_if("photo_missing", "since", missing_since);
    let reason = pictures.left_out(digest).filter(|_| missing.is_none());
    let why = reason.map(|reason| match reason {
        LeftOut::NotAtHand => "photo_not_shown",
        LeftOut::Unclean => "photo_unclean",
        LeftOut::TooMuch => "photo_left_out",
    });
    let drawn = pictures.path(digest).is_some() && has_marks;
    let lines = [
        Some(wording.say("photo_kept", &[("when", &wording.date(&kept.wall))])),
        wording.say_if("photo_taken", "when", &taken(&kept.event.taken, wording)),
        wording.say_if("photo_bytes", "bytes", &kept.event.bytes),
        why.map(|key| wording.say(key, &[])),
        drawn.then(|| wording.say("photo_marked", &[])),
    ];
    PhotoRow {
        title: wording.say("photo_entry", &values),
        lines: lines.into_iter().flatten().collect(),
        sha256: digest.to_string(),
        missing: missing.unwrap_or_default(),
        picture: pictures.path(digest),
        alt: wording.say("photo_alt", &values),
    }
}

/// The camera's time; one without an offset is printed as the camera wrote it.
fn taken(time: &str, wording: &Wording) -> String {
    let known = chrono::DateTime::parse_from_rfc3339(time).is_ok();
    if known { wording.date(time) } else { time.replace('T', " ") }
}
