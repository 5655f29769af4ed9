use super::{page, photos};
use crate::view::{ReadingView, SeenView};
use ::job::measured::from_base_unit;
use ::job::{Job, Reading, Reasoning};

/// A page of readings in the order they were kept: the last ones before a running number, or of all.
pub(crate) fn reading_views(
    job: &Job,
    reasoning: Option<&Reasoning>,
    before: Option<u32>,
) -> Vec<ReadingView> {
    page(&job.readings, before).iter().map(|reading| reading_view(job, reasoning, reading)).collect()
}

/// A reading by its observation id.
pub(super) fn reading<'j>(job: &'j Job, observation: &str) -> Option<&'j Reading> {
    job.reading(&observation.parse().ok()?)
}

/// Number of a reading in the job by its observation id, 0 when there is none.
pub(super) fn number(job: &Job, observation: &str) -> u32 {
    reading(job, observation).map_or(0, |reading| reading.number)
}

/// One reading.
pub(crate) fn reading_view(job: &Job, reasoning: Option<&Reasoning>, reading: &Reading) -> ReadingView {
    let kept = &reading.reading;
    let (corrects, reason) = match &reading.corrects {
        Some((record, reason)) => (record.to_string(), reason.clone()),
        None => Default::default(),
    };
    ReadingView {
        record: reading.record.to_string(),
        number: reading.number,
        kept: reading.wall.clone(),
        test: kept.test.clone(),
        value: kept.value.clone(),
        unit: kept.unit,
        mode: kept.mode,
        range: kept.range.clone(),
        lowest: kept.lowest.clone(),
        highest: kept.highest.clone(),
        condition: kept.condition,
        red: kept.red.clone(),
        black: kept.black.clone(),
        red_pin: kept.red_pin.clone(),
        black_pin: kept.black_pin.clone(),
        state: kept.state.clone(),
        load: kept.load.clone(),
        complaint_present: kept.complaint_present,
        placement: kept.placement,
        note: kept.note.clone(),
        expected: expected(reasoning, reading),
        photos: photos(job, &kept.photos),
        seen: kept.seen.as_ref().map(|seen| SeenView {
            value: seen.value.clone(),
            decision: seen.decision,
            kept_against: seen.kept_against,
        }),
        corrected_by: reading.corrected_by.map(|record| record.to_string()).unwrap_or_default(),
        withdrawn: reading.withdrawn,
        corrects,
        correction_reason: reason,
    }
}

/// What a healthy circuit would have shown, in the reading's unit.
fn expected(reasoning: Option<&Reasoning>, reading: &Reading) -> Option<f64> {
    let id = reading.record.to_string();
    // The newest readings are asked for most, and stand last.
    let expected = reasoning?.diagnosis.expected.iter().rfind(|e| e.observation == id)?;
    from_base_unit(expected.healthy?, reading.reading.unit)
}
