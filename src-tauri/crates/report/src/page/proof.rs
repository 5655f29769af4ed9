//! The failed reading and the same reading after the repair, side by side.

use super::pictures::Pictures;
use super::readings;
use super::wording::Wording;
use job::event::FixProven;
use job::{Job, Reading};
use serde::Serialize;

/// One before/after pair.
#[derive(Serialize)]
pub(crate) struct Proof {
    name: String,
    before: Side,
    after: Side,
    note: Option<String>,
}

#[derive(Serialize)]
struct Side {
    value: String,
    reading: String,
    when: String,
    picture: Option<String>,
    picture_words: String,
}

pub(crate) fn proofs(job: &Job, wording: &Wording, pictures: &Pictures) -> Vec<Proof> {
    job.proofs
        .iter()
        .filter_map(|kept| {
            let (before, after) = pair(job, &kept.event)?;
            Some(Proof {
                name: readings::name(before, wording),
                before: side(before, wording, pictures),
                after: side(after, wording, pictures),
                note: wording.say_if("proof_note", "note", &kept.event.note),
            })
        })
        .collect()
}

/// The readings of a pair, if both are at hand.
pub(crate) fn pair<'a>(job: &'a Job, proof: &FixProven) -> Option<(&'a Reading, &'a Reading)> {
    Some((job.reading(&proof.before)?, job.reading(&proof.after)?))
}

fn side(reading: &Reading, wording: &Wording, pictures: &Pictures) -> Side {
    let shown = reading.reading.photos.iter().find(|photo| pictures.path(photo).is_some());
    Side {
        value: wording.shown(&reading.reading),
        reading: wording.say("reading_name", &[("number", &reading.number.to_string())]),
        when: wording.date(&reading.wall),
        picture: shown.and_then(|photo| pictures.path(photo)),
        picture_words: wording.photos(&reading.reading.photos).unwrap_or_default(),
    }
}
