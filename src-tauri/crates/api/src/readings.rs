//! Readings: kept at once, corrected by a new record.

use crate::entry::{CorrectionEntry, ReadingEntry};
use crate::view::JobView;
use crate::{ApiError, Workshop, show, typed};
use circuit::Circuit;
use job::event::{ReadingCorrected, ReadingKept};
use job::measured::Measured;
use job::{Event, Job, permission, reasoning};

impl Workshop {
    /// Keeps a reading.
    ///
    /// # Errors
    /// No circuit or meter chosen; a value, unit, point or position that isn't known; a photo that isn't kept.
    pub fn reading_keep(&self, job: &str, entry: &ReadingEntry) -> Result<JobView, ApiError> {
        let loaded = self.load(job)?;
        permission::keep_reading(&loaded.job).map_err(ApiError::Refused)?;
        let reading = reading(&loaded.job, entry, None)?;
        self.keep_and_settle(job, &Event::ReadingKept(reading), Some("reading"))?;
        self.job_view(job)
    }

    /// Keeps a correction beside the reading it corrects.
    ///
    /// # Errors
    /// As [`Workshop::reading_keep`]; a reading that isn't there or is corrected already; no reason.
    pub fn reading_correct(&self, job: &str, entry: &CorrectionEntry) -> Result<JobView, ApiError> {
        let loaded = self.load(job)?;
        let target = typed::record(&entry.corrects)?;
        let corrected = loaded
            .job
            .reading(&target)
            .ok_or_else(|| ApiError::Unknown { what: "reading", value: entry.corrects.clone() })?;
        if corrected.corrected_by.is_some() {
            return Err(ApiError::refused("already_corrected"));
        }
        let mut reading = reading(&loaded.job, &entry.reading, Some(corrected.reading.placement))?;
        let event = ReadingCorrected {
            corrects: target,
            reason: typed::required("reason", &entry.reason)?,
            note: std::mem::take(&mut reading.note),
            reading,
        };
        self.keep_and_settle(job, &Event::ReadingCorrected(event), Some("correction"))?;
        self.job_view(job)
    }
}

/// A reading from what was entered. `placement` is given for a correction: it stands where the corrected one stood.
fn reading(job: &Job, entry: &ReadingEntry, placement: Option<u32>) -> Result<ReadingKept, ApiError> {
    let circuit = show::chosen_circuit(job)?.ok_or_else(|| ApiError::refused("choose_circuit_first"))?;
    let value = Measured::parse(&entry.value, &entry.unit)?;
    let mode = typed::one_of(
        "mode",
        &entry.mode,
        &[
            "volts_dc",
            "volts_low_impedance",
            "ohms",
            "amps_dc",
            "millivolts_dc",
            "amps_clamp",
            "duty",
            "look",
            "yes_no",
        ],
    )?;
    let seen = matches!(mode.as_str(), "look" | "yes_no");
    if seen != (entry.unit == "yes_no") {
        return Err(job::measured::MeasuredError::Unit(entry.unit.clone()).into());
    }
    let names_pin = !entry.red_pin.is_empty() || !entry.black_pin.is_empty();
    let at_pin = names_pin && !seen;
    if !seen {
        known_place(job, &circuit, "red_lead", &entry.red, &entry.red_pin)?;
        known_place(job, &circuit, "black_lead", &entry.black, &entry.black_pin)?;
    }
    Ok(ReadingKept {
        // A test names its points; at a pin in doubt nobody knows whether it is the test's.
        test: if at_pin { String::new() } else { known_test(&circuit, &entry.test)? },
        value: value.text().to_owned(),
        unit: entry.unit.clone(),
        mode,
        red: entry.red.clone(),
        black: entry.black.clone(),
        red_pin: if seen { String::new() } else { entry.red_pin.clone() },
        black_pin: if seen { String::new() } else { entry.black_pin.clone() },
        state: whole_state(&circuit, &entry.state)?,
        load: known_load(&circuit, &entry.load)?,
        complaint_present: typed::one_of(
            "complaint_present",
            &entry.complaint_present,
            &["yes", "no", "unknown"],
        )?,
        placement: placement.unwrap_or_else(|| next_placement(job, entry.leads_placed_anew)),
        note: typed::text("note", &entry.note)?,
        photos: typed::photos(&entry.photos)?,
    })
}

/// A point, or a pin in doubt instead of it; never both.
fn known_place(
    job: &Job,
    circuit: &Circuit,
    what: &'static str,
    point: &str,
    pin: &str,
) -> Result<(), ApiError> {
    if pin.is_empty() {
        return known_point(circuit, what, point);
    }
    let in_doubt = reasoning::pins_in_doubt(job, circuit);
    let known = in_doubt.is_some_and(|unknown| reasoning::pin_of(&unknown, pin).is_some());
    if known && point.is_empty() { Ok(()) } else { Err(ApiError::Unknown { what, value: pin.to_owned() }) }
}

fn known_point(circuit: &Circuit, what: &'static str, id: &str) -> Result<(), ApiError> {
    if circuit.points.iter().any(|point| point.id == id) {
        Ok(())
    } else {
        Err(ApiError::Unknown { what, value: id.to_owned() })
    }
}

fn known_test(circuit: &Circuit, id: &str) -> Result<String, ApiError> {
    if id.is_empty() || circuit.tests.iter().any(|test| test.id == id) {
        Ok(id.to_owned())
    } else {
        Err(ApiError::Unknown { what: "test", value: id.to_owned() })
    }
}

fn known_load(circuit: &Circuit, id: &str) -> Result<String, ApiError> {
    if id.is_empty() || circuit.loads.iter().any(|load| load.id == id) {
        Ok(id.to_owned())
    } else {
        Err(ApiError::Unknown { what: "load", value: id.to_owned() })
    }
}

/// Every variable with its position: what was left out is in its usual one.
fn whole_state(circuit: &Circuit, entered: &circuit::State) -> Result<circuit::State, ApiError> {
    let mut state = circuit::State::new();
    for variable in &circuit.variables {
        let position = entered.get(&variable.id).unwrap_or(&variable.default);
        if !variable.values.iter().any(|value| value.id == *position) {
            return Err(ApiError::Unknown { what: "position", value: format!("{} {position}", variable.id) });
        }
        state.insert(variable.id.clone(), position.clone());
    }
    match entered.keys().find(|id| !state.contains_key(*id)) {
        Some(id) => Err(ApiError::Unknown { what: "position", value: id.clone() }),
        None => Ok(state),
    }
}

/// A placement number: the last one's while the leads stay where they are.
fn next_placement(job: &Job, placed_anew: bool) -> u32 {
    let last = job.readings.iter().map(|r| r.reading.placement).max().unwrap_or(0);
    if placed_anew || last == 0 { last.saturating_add(1) } else { last }
}
