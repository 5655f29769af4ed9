//! Readings: kept at once, corrected by a new record.

use super::seen;
use crate::entry::{CorrectionEntry, Form, ReadingEntry, WithdrawalEntry};
use crate::view::{JobView, ReadingView};
use crate::{ApiError, Workshop, show, typed};
use job::event::{ReadingCorrected, ReadingKept};
use job::measured::Measured;
use job::{Event, Job, Refused};

impl Workshop {
    /// Keeps a reading.
    ///
    /// # Errors
    /// No circuit or meter chosen; a value, unit, point or position that isn't known; a photo that isn't kept.
    pub fn reading_keep(&self, form: impl Into<Form>, entry: &ReadingEntry) -> Result<JobView, ApiError> {
        let mut digits = None;
        let view = self.act(&form.into(), |loaded| {
            let mut reading = reading(&loaded.job, entry, None)?;
            reading.seen = self.seen_for(entry, &reading, None);
            digits = seen::digits_shown(&loaded.job, &reading);
            Ok(Event::ReadingKept(reading))
        })?;
        // The record is kept: what couldn't be remembered must not have it kept twice.
        let _ = digits.map(|(meter, digits)| self.remember_digits(&meter, digits));
        Ok(view)
    }

    /// Keeps a correction beside the reading it corrects.
    ///
    /// # Errors
    /// As [`Workshop::reading_keep`]; a reading that isn't there or is corrected already; no reason.
    pub fn reading_correct(
        &self,
        form: impl Into<Form>,
        entry: &CorrectionEntry,
    ) -> Result<JobView, ApiError> {
        self.act(&form.into(), |loaded| {
            let corrects = typed::record(&entry.corrects)?;
            let corrected = loaded.job.reading(&corrects);
            let unknown = || ApiError::Unknown { what: "reading", value: entry.corrects.clone() };
            let corrected = &corrected.ok_or_else(unknown)?.reading;
            let mut reading = reading(&loaded.job, &entry.reading, Some(corrected.placement))?;
            reading.seen = self.seen_for(&entry.reading, &reading, corrected.seen.as_ref());
            let reason = typed::required("reason", &entry.reason)?;
            let note = std::mem::take(&mut reading.note);
            Ok(Event::ReadingCorrected(ReadingCorrected {
                corrects,
                reason,
                note,
                reading,
                withdrawn: false,
            }))
        })
    }

    /// Takes a reading back by a correction that puts nothing in its place.
    ///
    /// # Errors
    /// A reading that isn't there, or is corrected or taken back already; no reason.
    pub fn reading_withdraw(
        &self,
        form: impl Into<Form>,
        entry: &WithdrawalEntry,
    ) -> Result<JobView, ApiError> {
        self.act(&form.into(), |loaded| {
            let corrects = typed::record(&entry.corrects)?;
            let unknown = || ApiError::Unknown { what: "reading", value: entry.corrects.clone() };
            let mut reading = loaded.job.reading(&corrects).ok_or_else(unknown)?.reading.clone();
            let reason = typed::required("reason", &entry.reason)?;
            let note = std::mem::take(&mut reading.note);
            Ok(Event::ReadingCorrected(ReadingCorrected { corrects, reason, note, reading, withdrawn: true }))
        })
    }

    /// A page of a job's readings in the order they were kept: those before a running number.
    ///
    /// # Errors
    /// An unknown job, a store that can't be read.
    pub fn readings_page(&self, job: &str, before: u32) -> Result<Vec<ReadingView>, ApiError> {
        let loaded = self.load(job)?;
        let reasoning = self.reasoning_if_any(&loaded)?;
        let reasoning = reasoning.as_ref().map(|shop| &shop.reasoning);
        Ok(show::reading_views(&loaded.job, reasoning, Some(before)))
    }

    /// One reading of a job, by its record.
    ///
    /// # Errors
    /// An unknown job or reading, a store that can't be read.
    pub fn reading_view(&self, job: &str, record: &str) -> Result<ReadingView, ApiError> {
        let loaded = self.load(job)?;
        let unknown = || ApiError::Unknown { what: "reading", value: record.to_owned() };
        let reading = loaded.job.reading(&typed::record(record)?).ok_or_else(unknown)?;
        let reasoning = self.reasoning_if_any(&loaded)?;
        Ok(show::reading_view(&loaded.job, reasoning.as_ref().map(|shop| &shop.reasoning), reading))
    }
}

/// A reading from what was entered. `placement` is given for a correction: it stands where the corrected one stood.
fn reading(job: &Job, entry: &ReadingEntry, placement: Option<u32>) -> Result<ReadingKept, ApiError> {
    let seen = entry.mode.is_seen();
    let names_pin = !entry.red_pin.is_empty() || !entry.black_pin.is_empty();
    Ok(ReadingKept {
        // A test names its points; at a pin in doubt nobody knows whether it is the test's.
        test: if names_pin && !seen { String::new() } else { entry.test.clone() },
        value: value(entry)?,
        unit: entry.unit,
        mode: entry.mode,
        range: measured(entry, &entry.range)?,
        lowest: measured(entry, &entry.lowest)?,
        highest: measured(entry, &entry.highest)?,
        condition: entry.condition,
        red: entry.red.clone(),
        black: entry.black.clone(),
        red_pin: if seen { String::new() } else { entry.red_pin.clone() },
        black_pin: if seen { String::new() } else { entry.black_pin.clone() },
        state: whole_state(job, entry)?,
        load: entry.load.clone(),
        complaint_present: entry.complaint_present,
        placement: placement.unwrap_or_else(|| next_placement(job, entry.leads_placed_anew)),
        note: typed::text("note", &entry.note)?,
        photos: typed::photos(&entry.photos)?,
        seen: None,
    })
}

/// The value as typed. It may be left out beside a recording.
fn value(entry: &ReadingEntry) -> Result<String, ApiError> {
    let typed = |text: &str| !text.trim().is_empty();
    if !typed(&entry.value) && !entry.mode.is_answered() && (typed(&entry.lowest) || typed(&entry.highest)) {
        return Ok(String::new());
    }
    Ok(Measured::parse(&entry.value, entry.unit)?.text().to_owned())
}

/// Another number of the reading as typed: its range, or one of a recording. None where nothing was measured.
fn measured(entry: &ReadingEntry, typed: &str) -> Result<String, ApiError> {
    if typed.trim().is_empty() || entry.mode.is_answered() {
        return Ok(String::new());
    }
    Ok(Measured::parse(typed, entry.unit)?.text().to_owned())
}

/// Every variable with its position: what was left out is as the test wants it, or `unknown`.
fn whole_state(job: &Job, entry: &ReadingEntry) -> Result<circuit::State, ApiError> {
    let circuit = job.circuit_file();
    let circuit = circuit.ok_or_else(|| ApiError::Refused(Refused::because("choose_circuit_first")))?;
    Ok(circuit.whole_state(Some(&entry.test), &entry.state))
}

/// A placement number: the last one's while the leads stay where they are.
fn next_placement(job: &Job, placed_anew: bool) -> u32 {
    let last = job.readings.iter().map(|r| r.reading.placement).max().unwrap_or(0);
    if placed_anew || last == 0 { last.saturating_add(1) } else { last }
}
