//! The list of photos with their hashes.

use super::pictures::{LeftOut, Pictures};
use super::wording::Wording;
use super::wording::photos_in_order;
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
    picture: Option<String>,
    alt: String,
}

pub(super) fn rows(job: &Job, wording: &Wording, pictures: &Pictures) -> Vec<PhotoRow> {
    let kept = photos_in_order(job).into_iter().filter_map(|digest| Some((digest, job.photos.get(&digest)?)));
    kept.map(|(digest, kept)| row(&digest, kept, wording, pictures)).collect()
}

fn row(digest: &Digest, kept: &Kept<PhotoKept>, wording: &Wording, pictures: &Pictures) -> PhotoRow {
    let number = wording.photo(digest).unwrap_or_default().to_string();
    let purpose = wording.code_of("purpose", &kept.event.purpose);
    let values = [("number", number.as_str()), ("purpose", purpose.as_str())];
    let why = pictures.left_out(digest).map(|reason| match reason {
        LeftOut::NotAtHand => "photo_not_shown",
        LeftOut::Unclean => "photo_unclean",
        LeftOut::TooMuch => "photo_left_out",
    });
    let lines = [
        Some(wording.say("photo_kept", &[("when", &wording.date(&kept.wall))])),
        wording.say_if("photo_taken", "when", &taken(&kept.event.taken, wording)),
        wording.say_if("photo_bytes", "bytes", &kept.event.bytes),
        why.map(|key| wording.say(key, &[])),
    ];
    PhotoRow {
        title: wording.say("photo_entry", &values),
        lines: lines.into_iter().flatten().collect(),
        sha256: digest.to_string(),
        picture: pictures.path(digest),
        alt: wording.say("photo_alt", &values),
    }
}

/// The camera's time; one without an offset is printed as the camera wrote it.
fn taken(time: &str, wording: &Wording) -> String {
    let known = chrono::DateTime::parse_from_rfc3339(time).is_ok();
    if known { wording.date(time) } else { time.replace('T', " ") }
}
