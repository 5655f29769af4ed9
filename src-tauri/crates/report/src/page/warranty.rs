//! The shop's warranty on its work: the technician's words, and until when it runs.

use super::wording::Wording;
use job::{Job, warranty_end};

/// Both in one text; nothing before the hand-over, or where nothing was agreed.
pub(crate) fn warranty(job: &Job, wording: &Wording) -> Option<String> {
    let words = job.handed_over.as_ref()?.event.warranty.trim().to_owned();
    let end = until(job, wording);
    let parts: Vec<String> = [words, end].into_iter().filter(|part| !part.is_empty()).collect();
    (!parts.is_empty()).then(|| parts.join(". "))
}

fn until(job: &Job, wording: &Wording) -> String {
    let Some(end) = warranty_end(job) else { return String::new() };
    let day = end.day.map(|day| wording.local_day(&day.to_string()));
    let unit = end.unit.map(|unit| wording.code_of("unit", &unit)).unwrap_or_default();
    let odometer = end.odometer.map(|odometer| {
        let values = [("odometer", wording.grouped(&odometer.to_string())), ("unit", unit)];
        wording.say("vehicle_odometer", &values.each_ref().map(|(name, value)| (*name, value.as_str())))
    });
    match (day, odometer) {
        (Some(day), Some(odometer)) => {
            wording.say("warranty_first", &[("day", &day), ("odometer", odometer.trim())])
        }
        (Some(end), None) | (None, Some(end)) => wording.say("warranty_until", &[("end", end.trim())]),
        (None, None) => String::new(),
    }
}
