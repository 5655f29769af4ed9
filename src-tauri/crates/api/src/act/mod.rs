//! The one door for change: one lock, one load, one rule, one record, one fold, one view.

mod folds;
mod loaded;
mod seal;
#[cfg(test)]
mod tests;

pub(crate) use folds::Folds;
pub(crate) use loaded::Loaded;

use crate::entry::Form;
use crate::view::JobView;
use crate::{ApiError, Workshop};
use evidence::{LogId, tree};
use job::event::check::LONGEST;
use job::event::{CoveredCopy, Unusable};
use job::rule::{self, Standing};
use job::{Event, Job};
use serde_json::Value;
use std::sync::Arc;
use store::AppendRequest;

/// What a record settles in the same transaction.
#[derive(Default)]
pub(crate) struct Settles<'a> {
    /// The form whose draft it is.
    pub draft: Option<&'a str>,
    /// The waiting time-stamp whose token it holds.
    pub time_stamp: Option<&'a store::TimeStampWaiting>,
    /// Whether it is appended to take in records that nobody signed for.
    pub unsigned: bool,
}

impl Workshop {
    /// Changes a job: while nobody else can, loads it, asks `decide` for the event, asks the rules of the job, seals,
    /// appends, folds, and shows the job as it is now.
    ///
    /// # Errors
    /// A job that moved on since the form was shown; whatever `decide` or the rules refuse; a store that can't be
    /// written to. Nothing is kept then.
    pub(crate) fn act(
        &self,
        form: &Form,
        decide: impl FnOnce(&Loaded) -> Result<Event, ApiError>,
    ) -> Result<JobView, ApiError> {
        self.act_unless_same(form, |loaded| decide(loaded).map(Some))
    }

    /// As [`Workshop::act`], for what may turn out to be on record already: nothing is sealed then.
    pub(crate) fn act_unless_same(
        &self,
        form: &Form,
        decide: impl FnOnce(&Loaded) -> Result<Option<Event>, ApiError>,
    ) -> Result<JobView, ApiError> {
        let loaded = self.change(form, decide)?;
        self.show_job(&loaded)
    }

    /// The change alone, for callers that show something else of it.
    pub(crate) fn change(
        &self,
        form: &Form,
        decide: impl FnOnce(&Loaded) -> Result<Option<Event>, ApiError>,
    ) -> Result<Arc<Loaded>, ApiError> {
        let _turn = self.store.turn();
        let mut loaded = self.load_to_change(&form.job)?;
        loaded.require_unmoved(form.records)?;
        if let Some(event) = decide(&loaded)? {
            refuse_own(&event)?;
            let draft = Some(form.draft.as_str()).filter(|draft| !draft.is_empty());
            self.admit(&mut loaded, &event, &Settles { draft, ..Settles::default() })?;
        }
        Ok(self.keep_fold(loaded))
    }

    /// Opens a job with its first record.
    pub(crate) fn begin(
        &self,
        decide: impl FnOnce() -> Result<(String, Event), ApiError>,
    ) -> Result<JobView, ApiError> {
        let _turn = self.store.turn();
        let (job, event) = decide()?;
        let mut loaded = Loaded::blank(self.log(&job)?, self.folds.drops());
        self.admit(&mut loaded, &event, &Settles::default())?;
        self.show_job(&self.keep_fold(loaded))
    }

    /// What the job as it stands doesn't allow, and what no record may hold, is refused before anything is sealed. The
    /// caller holds the turn.
    pub(crate) fn admit(
        &self,
        loaded: &mut Loaded,
        event: &Event,
        settles: &Settles<'_>,
    ) -> Result<(), ApiError> {
        let reasoning = match event {
            Event::FindingKept(_) => self.reasoning(loaded)?,
            _ => None,
        };
        let diagnosis = reasoning.as_ref().map(|shop| &shop.reasoning.diagnosis);
        let registration = match event {
            Event::EstimateKept(_) | Event::InvoiceKept(_) => self.shop()?.registration,
            _ => String::new(),
        };
        let standing = Standing { job: &loaded.job, diagnosis, registration: &registration };
        rule::demands(&standing, event).map_err(ApiError::Refused)?;
        event.admissible()?;
        texts_fit(event)?;
        self.copies_are_here(&loaded.job, event)?;
        self.printed_here(&loaded.log, event)?;
        // Every record is signed for: a key that is locked or lost is asked for before the record, not after it.
        self.key()?;
        let signed = event.descriptor().signed;
        let takes_in = matches!(event, Event::RecordsTakenIn(_));
        for earlier in self.missing_successions(&loaded.log)? {
            self.append(loaded, &earlier, &Settles { unsigned: takes_in, ..Settles::default() })?;
        }
        self.append(loaded, event, &Settles { unsigned: takes_in, ..*settles })?;
        if signed && let Err(error) = self.sign_checkpoint(&loaded.log) {
            // The record is kept: answering with an error would have it sent and kept again. The next export signs.
            self.notice_unsigned(&loaded.log.job, &error);
        }
        self.notice_journal();
        Ok(())
    }

    /// The checkpoint that a report prints is one of its log.
    fn printed_here(&self, log: &LogId, event: &Event) -> Result<(), ApiError> {
        let Event::ReportWritten(report) = event else { return Ok(()) };
        let Some((size, root)) = report.size.zip(report.root) else { return Ok(()) };
        let leaves = self.store.leaves(log)?;
        let first = usize::try_from(size).ok().and_then(|size| leaves.get(..size));
        if first.map(tree::root) == Some(root) {
            Ok(())
        } else {
            Err(ApiError::Unknown { what: "checkpoint", value: size.to_string() })
        }
    }

    /// A covered copy stands in for a photo of this job, and is the file that the record says it is.
    fn copies_are_here(&self, job: &Job, event: &Event) -> Result<(), ApiError> {
        let Event::PhotoRedacted(covered) = event else { return Ok(()) };
        let fits = |copy: &CoveredCopy| {
            job.photos.contains_key(&copy.original)
                && self.store.original_size(&copy.sha256) == Some(copy.bytes)
        };
        match covered.redactions.iter().find(|copy| !fits(copy)) {
            Some(copy) => Err(ApiError::Unknown { what: "photo", value: copy.sha256.to_string() }),
            None => Ok(()),
        }
    }

    /// Loads a job and adds to this device's log how its keys followed one another, as far as the log doesn't say it yet. The
    /// caller holds the turn.
    pub(crate) fn load_with_successions(&self, job: &str) -> Result<Loaded, ApiError> {
        let mut loaded = self.load_to_change(job)?;
        for earlier in self.missing_successions(&loaded.log)? {
            self.append(&mut loaded, &earlier, &Settles::default())?;
        }
        Ok(loaded)
    }

    /// One record and the job's line of the list in one transaction. What would not fold is refused before it is kept.
    fn append(&self, loaded: &mut Loaded, event: &Event, settles: &Settles<'_>) -> Result<(), ApiError> {
        let sealed = self.seal(&loaded.log, &loaded.job, event)?;
        let signature = self.sign_head(&loaded.log, &sealed)?;
        let expected = loaded.records();
        loaded.add(&sealed)?;
        let summary = crate::show::summary(&loaded.log.job, &loaded.job);
        self.store.append(&AppendRequest {
            summary: Some(&summary),
            settles_draft: settles.draft,
            settles_intent: matches!(event, Event::PhotoKept(_)),
            settles_time_stamp: settles.time_stamp,
            expected_records: Some(expected),
            takes_in_unsigned: settles.unsigned,
            ..AppendRequest::new(&loaded.log, &sealed, signature)
        })?;
        self.closed_jobs.learn(&loaded.log.job, &loaded.job);
        Ok(())
    }
}

/// What the app adds by itself (how keys followed one another, a time from outside) is checked where it comes from and
/// never comes from a form.
fn refuse_own(event: &Event) -> Result<(), ApiError> {
    let own = matches!(
        event,
        Event::Timestamp(_)
            | Event::KeyChanged(_)
            | Event::KeyLost(_)
            | Event::DeviceAdded(_)
            | Event::RecordsTakenIn(_)
    );
    let unknown = || ApiError::Unknown { what: "kind", value: event.descriptor().kind.to_owned() };
    if own { Err(unknown()) } else { Ok(()) }
}

/// No text of a form is longer than is kept. What the app itself writes whole (a circuit, a result, a drawn signature, a
/// time-stamp) has limits of its own.
fn texts_fit(event: &Event) -> Result<(), Unusable> {
    if matches!(event, Event::CircuitChosen(_) | Event::FindingKept(_) | Event::Timestamp(_)) {
        return Ok(());
    }
    let long = |value: &Value| matches!(value, Value::String(text) if text.chars().count() > LONGEST);
    let whole = serde_json::to_value(event).unwrap_or_default();
    let body = whole.get("body").and_then(Value::as_object);
    let found = body.into_iter().flatten().find(|(name, value)| name.as_str() != "signature" && long(value));
    match found {
        Some((name, _)) => Err(Unusable::new("text", format!("{name} is longer than {LONGEST} characters"))),
        None => Ok(()),
    }
}
