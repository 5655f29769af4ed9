//! The reading that showed the fault, and the same one after the repair.

use super::scale::Scale;
use crate::page::expected::Expected;
use crate::page::pictures::Pictures;
use crate::page::wording::Wording;
use crate::page::{proof, readings};
use evidence::Digest;
use job::event::PhotoPurpose;
use job::{Job, Reading};
use serde::Serialize;

/// Both sides with what is good.
#[derive(Serialize)]
pub(crate) struct Comparison {
    pub(crate) title: String,
    pub(crate) place: String,
    pub(crate) before: Side,
    pub(crate) after: Option<Side>,
    pub(crate) scale: Option<Scale>,
    pub(crate) scale_alt: String,
    pub(crate) low: String,
    pub(crate) good: Option<String>,
}

/// One reading with its pictures.
#[derive(Serialize)]
pub(crate) struct Side {
    pub(crate) label: String,
    pub(crate) value: String,
    pub(crate) good: Option<bool>,
    pub(crate) pictures: Vec<Picture>,
}

/// A picture on the page.
#[derive(Clone, Serialize)]
pub(crate) struct Picture {
    pub(crate) path: String,
    pub(crate) alt: String,
    pub(crate) caption: String,
}

/// Of the newest proof; without one, the reading that speaks most for the cause that was called.
pub(crate) fn comparison(job: &Job, wording: &Wording, pictures: &Pictures) -> Option<Comparison> {
    let (before, after) = sides(job)?;
    let expected = Expected::of(before, job, wording);
    let scale = Scale::of(&expected, before, after, job);
    let limited = expected.min.is_some() || expected.max.is_some() || expected.healthy.is_some();
    let good = expected.words(before.reading.unit, wording);
    let value = |reading: &Reading| wording.shown(&reading.reading);
    let words =
        [("good", good.clone()), ("before", value(before)), ("after", after.map(value).unwrap_or_default())];
    let words: Vec<(&str, &str)> = words.iter().map(|(name, text)| (*name, text.as_str())).collect();
    let low = scale.as_ref().map(|scale| {
        let low = if scale.ends.0 == 0.0 { "0".to_owned() } else { format!("{:.2}", scale.ends.0) };
        wording.value(&low, before.reading.unit)
    });
    let key = if after.is_some() { "summary_proof" } else { "summary_measured" };
    Some(Comparison {
        title: wording.say(key, &[]),
        place: wording.say("summary_place", &[("name", &readings::name(before, wording))]),
        before: side(before, After::No, &expected, job, wording, pictures),
        after: after.map(|after| side(after, After::Yes, &expected, job, wording, pictures)),
        scale_alt: wording
            .say(if after.is_some() { "summary_scale_alt" } else { "summary_scale_alt_one" }, &words),
        scale,
        low: low.unwrap_or_default(),
        good: limited.then(|| wording.say("summary_good", &[("good", &good)])),
    })
}

/// The newest proof's readings; without a proof the reading that the finding rests on most.
pub(crate) fn sides(job: &Job) -> Option<(&Reading, Option<&Reading>)> {
    let proven = job.proofs.last().and_then(|kept| proof::pair(job, &kept.event));
    if let Some((before, after)) = proven {
        return Some((before, Some(after)));
    }
    let finding = job.findings.last()?;
    let numeric = |reading: &&Reading| !reading.reading.photos.is_empty();
    let rests_on = finding.event.readings.iter().rev().filter_map(|record| job.reading(record));
    rests_on.clone().find(numeric).or_else(|| rests_on.clone().next()).map(|reading| (reading, None))
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum After {
    Yes,
    No,
}

fn side(
    reading: &Reading,
    after: After,
    expected: &Expected,
    job: &Job,
    wording: &Wording,
    pictures: &Pictures,
) -> Side {
    // Without a limit the one that was measured again is the good one: that is what the technician sealed as proof.
    let proven = !job.proofs.is_empty();
    let good = expected.is_met(reading, job).or_else(|| proven.then_some(after == After::Yes));
    let verdict = verdict(reading, good, expected, job, wording);
    let (key, when) = match after {
        After::Yes => ("summary_after", "summary_after_alt"),
        After::No if proven => ("summary_before", "summary_before_alt"),
        After::No => ("summary_reading", "summary_reading_alt"),
    };
    let meter =
        reading.reading.photos.iter().find_map(|photo| meter(photo, reading, when, wording, pictures));
    let spot = spot(job, after).and_then(|photo| shown(&photo, job, wording, pictures));
    Side {
        label: wording.say(key, &[("verdict", &verdict)]).trim_end_matches([':', ' ']).to_owned(),
        value: wording.shown(&reading.reading),
        good,
        pictures: meter.into_iter().chain(spot).collect(),
    }
}

fn verdict(
    reading: &Reading,
    good: Option<bool>,
    expected: &Expected,
    job: &Job,
    wording: &Wording,
) -> String {
    let value = job::counted(job, &reading.reading);
    let value = if value == "OL" { Some(f64::INFINITY) } else { value.parse::<f64>().ok() };
    let below = value.zip(expected.min).is_some_and(|(value, min)| value < min);
    let above = value.zip(expected.max).is_some_and(|(value, max)| value > max);
    match good {
        Some(true) => wording.say("summary_is_good", &[]),
        Some(false) if below => wording.say("summary_too_low", &[]),
        Some(false) if above => wording.say("summary_too_high", &[]),
        Some(false) => wording.say("summary_is_bad", &[]),
        None => String::new(),
    }
}

fn meter(
    photo: &Digest,
    reading: &Reading,
    when: &str,
    wording: &Wording,
    pictures: &Pictures,
) -> Option<Picture> {
    let path = pictures.path(photo)?;
    let (time, day) = (wording.time_of_day(&reading.wall), wording.day(&reading.wall));
    let (value, name) = (wording.shown(&reading.reading), readings::name(reading, wording));
    let when = wording.say(when, &[]);
    let values = [("value", value.as_str()), ("name", &name), ("when", &when), ("day", &day)];
    Some(Picture {
        path,
        alt: wording.say("summary_meter_alt", &values),
        caption: wording.say("summary_meter", &[("time", &time)]),
    })
}

/// The bad spot before the repair, and after it: the last photo of a connector or wire that was kept before the repair was
/// approved, and the first one of the repair.
pub(super) fn spot_before(job: &Job) -> Option<Digest> {
    let approved = repair_approved(job)?;
    let kept = job.photos.iter().filter(|(_, kept)| kept.event.purpose == PhotoPurpose::PinOut);
    kept.filter(|(_, kept)| kept.wall < approved).max_by_key(|(_, kept)| &kept.wall).map(|(photo, _)| *photo)
}

pub(super) fn spot_after(job: &Job) -> Option<Digest> {
    let approved = repair_approved(job)?;
    let kept = job.photos.iter().filter(|(_, kept)| kept.event.purpose == PhotoPurpose::Repair);
    kept.filter(|(_, kept)| kept.wall > approved).min_by_key(|(_, kept)| &kept.wall).map(|(photo, _)| *photo)
}

/// When the repair was approved: the first yes after the finding. Times of one job in one zone compare as texts.
fn repair_approved(job: &Job) -> Option<String> {
    let found = &job.findings.last()?.wall;
    let yes = job.approvals.iter().find(|kept| kept.event.approves() && kept.wall > *found)?;
    Some(yes.wall.clone())
}

fn spot(job: &Job, after: After) -> Option<Digest> {
    // One side alone would look as if it were the other one's fault.
    let (before, repaired) = (spot_before(job)?, spot_after(job)?);
    Some(if after == After::Yes { repaired } else { before })
}

/// A photo with what it shows, as far as its record tells.
pub(super) fn shown(photo: &Digest, job: &Job, wording: &Wording, pictures: &Pictures) -> Option<Picture> {
    let path = pictures.path(photo)?;
    let kept = job.photos.get(photo)?;
    let purpose = wording.code_of("purpose", &kept.event.purpose);
    let values = [("what", purpose.as_str()), ("when", &wording.day_and_time(&kept.wall))];
    let caption = wording.say("summary_photo", &values);
    Some(Picture { path, alt: wording.say("summary_photo_alt", &values), caption })
}
