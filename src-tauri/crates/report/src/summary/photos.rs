//! Which photos a short report shows: the proof first, then the bad spot, then one of each sort; look-alikes last.

use super::comparison::{self, Picture};
use crate::FindingsInput;
use crate::page::pictures::{self, Pictures};
use crate::page::wording::{Wording, photos_in_order};
use evidence::Digest;
use job::Job;
use job::event::PhotoPurpose;
use serde::Serialize;
use std::collections::BTreeSet;

/// Photos behind the first page.
const BEHIND: usize = 6;

/// Photos behind the first page, and how many there are in all.
#[derive(Serialize)]
pub(crate) struct Photos {
    pub(crate) items: Vec<Picture>,
    pub(crate) note: String,
}

impl Photos {
    /// In the order of [`order`], which takes long and is asked for once.
    pub fn of(job: &Job, order: &[Digest], wording: &Wording, pictures: &Pictures) -> Photos {
        let first: BTreeSet<Digest> = first_page(job).into_iter().collect();
        let chosen = order.iter().filter(|photo| !first.contains(photo));
        let items: Vec<Picture> =
            chosen.filter_map(|photo| picture(photo, job, wording, pictures)).take(BEHIND).collect();
        let on_first = first.iter().filter(|photo| pictures.path(photo).is_some()).count();
        let shown = items.len().saturating_add(on_first).to_string();
        let total = job.photos.len().to_string();
        let note = wording.say("summary_photos_note", &[("shown", &shown), ("total", &total)]);
        Photos { items, note: if shown == total { String::new() } else { note } }
    }
}

/// What a photo shows: of a meter also its value.
fn picture(photo: &Digest, job: &Job, wording: &Wording, pictures: &Pictures) -> Option<Picture> {
    let mut picture = comparison::shown(photo, job, wording, pictures)?;
    let reading = job.readings.iter().find(|reading| reading.reading.photos.contains(photo));
    if let Some(reading) = reading {
        let (number, value) = (reading.number.to_string(), wording.shown(&reading.reading));
        let time = wording.time_of_day(&reading.wall);
        let values = [("number", number.as_str()), ("value", &value), ("time", &time)];
        picture.caption = wording.say("summary_photo_reading", &values);
        picture.alt = wording.say("summary_photo_reading_alt", &values);
    }
    Some(picture)
}

/// Photos of the first page.
fn first_page(job: &Job) -> Vec<Digest> {
    let Some((before, after)) = comparison::sides(job) else { return Vec::new() };
    let meters = [Some(before), after].into_iter().flatten();
    let meters = meters.filter_map(|reading| reading.reading.photos.first().copied());
    let spots = comparison::spot_before(job).zip(comparison::spot_after(job));
    meters.chain(spots.into_iter().flat_map(|(before, after)| [before, after])).collect()
}

/// As many as are shown and a few to take the place of what can't be shown.
pub(crate) fn order(input: &FindingsInput) -> Vec<Digest> {
    let (first, behind) = candidates(input.job);
    let behind = pictures::look_alikes_last(input, behind);
    first.into_iter().chain(behind.into_iter().take(BEHIND.saturating_add(2))).collect()
}

/// Photos of the first page, and those from which the ones behind it are chosen: one of each sort before a second one of any.
pub(crate) fn candidates(job: &Job) -> (Vec<Digest>, Vec<Digest>) {
    let first = first_page(job);
    let rank = |photo: &Digest| match job.photos.get(photo).map(|kept| kept.event.purpose) {
        Some(PhotoPurpose::Repair) => 0,
        Some(PhotoPurpose::PinOut) => 1,
        Some(PhotoPurpose::Reading) => 2,
        Some(PhotoPurpose::Part) => 3,
        Some(PhotoPurpose::Message) => 4,
        Some(PhotoPurpose::Programming | PhotoPurpose::SupplierPaper) => 5,
        Some(PhotoPurpose::Arrival) => 6,
        Some(PhotoPurpose::Identity) | None => 7,
    };
    let mut behind: Vec<Digest> = photos_in_order(job).into_iter().filter(|p| !first.contains(p)).collect();
    behind.sort_by_key(rank);
    let mut turns: Vec<(usize, u8, Digest)> = Vec::new();
    for photo in behind {
        let turn = turns.iter().filter(|(_, sort, _)| *sort == rank(&photo)).count();
        turns.push((turn, rank(&photo), photo));
    }
    turns.sort_by_key(|(turn, sort, _)| (*turn, *sort));
    let behind = turns.into_iter().map(|(_, _, photo)| photo).take(BEHIND.saturating_mul(3)).collect();
    (first, behind)
}
