use super::photos;
use crate::view::ReadingView;
use ::job::measured::from_base_unit;
use ::job::{Job, Reading, Reasoning};

/// Readings in the order they were kept.
pub(crate) fn reading_views(job: &Job, reasoning: Option<&Reasoning>) -> Vec<ReadingView> {
    job.readings.iter().map(|reading| view(job, reasoning, reading)).collect()
}

/// Number of a reading in the job by its observation id, 0 when there is none.
pub(super) fn number(job: &Job, observation: &str) -> u32 {
    job.readings.iter().find(|r| r.record.to_string() == observation).map_or(0, |r| r.number)
}

fn view(job: &Job, reasoning: Option<&Reasoning>, reading: &Reading) -> ReadingView {
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
        corrected_by: reading.corrected_by.map(|record| record.to_string()).unwrap_or_default(),
        corrects,
        correction_reason: reason,
    }
}

/// What a healthy circuit would have shown, in the reading's unit.
fn expected(reasoning: Option<&Reasoning>, reading: &Reading) -> Option<f64> {
    let id = reading.record.to_string();
    let expected = reasoning?.diagnosis.expected.iter().find(|e| e.observation == id)?;
    from_base_unit(expected.healthy?, reading.reading.unit)
}
