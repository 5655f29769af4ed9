//! The photos of a job, in the order they were kept, each with what it belongs to.

use super::photo;
use crate::view::{JobPhotoView, PhotoReadingView, PhotoStep};
use ::job::event::{PhotoKept, PhotoPurpose};
use ::job::sharing::PhotoShare;
use ::job::{Job, Kept, Reading};
use evidence::Digest;
use std::collections::{BTreeMap, BTreeSet};

/// Every photo of a job. `handed_out` are those that went out in a packet.
pub(crate) fn job_photos(job: &Job, handed_out: &BTreeSet<Digest>) -> Vec<JobPhotoView> {
    let places: BTreeMap<Digest, usize> =
        job.timeline.iter().enumerate().map(|(place, entry)| (entry.record, place)).collect();
    let readings = by_photo(job);
    let proven = in_proofs(job);
    let mut kept: Vec<&Kept<PhotoKept>> = job.photos.values().collect();
    kept.sort_by_key(|kept| places.get(&kept.record));
    let view = |kept: &Kept<PhotoKept>| {
        let digest = kept.event.sha256;
        let readings = readings.get(&digest).map(Vec::as_slice).unwrap_or_default();
        let proves = readings.iter().any(|reading| proven.contains(&reading.record));
        Some(JobPhotoView {
            photo: photo(job, &digest)?,
            step: if proves { PhotoStep::Proof } else { step(kept.event.purpose) },
            readings: readings.iter().map(|reading| reading_view(reading)).collect(),
            in_papers: handed_out.contains(&digest) || in_a_report(job, kept, &places),
        })
    };
    kept.into_iter().filter_map(view).collect()
}

const fn step(purpose: PhotoPurpose) -> PhotoStep {
    match purpose {
        PhotoPurpose::Arrival | PhotoPurpose::Identity => PhotoStep::Intake,
        PhotoPurpose::PinOut | PhotoPurpose::Reading => PhotoStep::Readings,
        PhotoPurpose::Repair => PhotoStep::Proof,
        PhotoPurpose::Part
        | PhotoPurpose::Programming
        | PhotoPurpose::Message
        | PhotoPurpose::SupplierPaper => PhotoStep::Papers,
    }
}

fn by_photo(job: &Job) -> BTreeMap<Digest, Vec<&Reading>> {
    let mut found: BTreeMap<Digest, Vec<&Reading>> = BTreeMap::new();
    for reading in &job.readings {
        for photo in &reading.reading.photos {
            found.entry(*photo).or_default().push(reading);
        }
    }
    found
}

fn in_proofs(job: &Job) -> BTreeSet<Digest> {
    job.proofs.iter().flat_map(|kept| [kept.event.before, kept.event.after]).collect()
}

/// A report lists every photo that was kept before it and that its recipient's preset doesn't hold back: reports are never
/// written otherwise.
fn in_a_report(job: &Job, kept: &Kept<PhotoKept>, places: &BTreeMap<Digest, usize>) -> bool {
    let before = |record: &Digest, report: &Digest| places.get(record) < places.get(report);
    job.reports.iter().filter(|report| before(&kept.record, &report.record)).any(|report| {
        let is_covered = |copies: &Kept<::job::event::PhotoRedacted>| {
            let of_it = |copy: &::job::event::CoveredCopy| {
                copy.original == kept.event.sha256 && copy.change.is_covered()
            };
            before(&copies.record, &report.record) && copies.event.redactions.iter().any(of_it)
        };
        let covered = job.covered.iter().any(is_covered);
        PhotoShare::preset(report.event.recipient, kept.event.purpose, covered) != PhotoShare::Withheld
    })
}

fn reading_view(reading: &Reading) -> PhotoReadingView {
    let kept = &reading.reading;
    PhotoReadingView {
        record: reading.record.to_string(),
        number: reading.number,
        test: kept.test.clone(),
        value: kept.value.clone(),
        unit: kept.unit,
        range: kept.range.clone(),
        lowest: kept.lowest.clone(),
        highest: kept.highest.clone(),
        condition: kept.condition,
        counts: reading.corrected_by.is_none() && !reading.withdrawn,
    }
}
