//! The one handle: a store, a world, a key. Every action goes through it.

use crate::ApiError;
use crate::engines::Engines;
use crate::view::WorkView;
use crate::work::Work;
use crate::world::{Clock, DeviceClock};
use evidence::{Digest, Disclosure, LogId, Sealed};
use job::{Event, Job, KeptRecord};
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;
use store::{AppendRequest, OpenOptions, Store};

/// An open shop on a data folder.
pub struct Workshop {
    pub(crate) store: Store,
    pub(crate) clock: Arc<dyn Clock>,
    pub(crate) work: Work,
    pub(crate) engines: Engines,
}

/// A job as it was loaded, with its own log.
pub(crate) struct Loaded {
    pub log: LogId,
    pub job: Job,
}

/// What a record settles in the same transaction.
#[derive(Default)]
pub(crate) struct Settles<'a> {
    /// The form whose draft it is.
    pub form: Option<&'a str>,
    /// The waiting time-stamp whose token it holds.
    pub time_stamp: Option<&'a store::TimeStampWaiting>,
}

impl Workshop {
    /// Opens a data folder with the device's own clock.
    ///
    /// # Errors
    /// A second running copy, a folder that can't be written to, a database of a newer version.
    pub fn open(folder: &Path) -> Result<Workshop, ApiError> {
        Workshop::open_at(folder, Arc::new(DeviceClock))
    }

    /// Opens a data folder with a clock that is passed in.
    ///
    /// # Errors
    /// As [`Workshop::open`].
    pub fn open_at(folder: &Path, clock: Arc<dyn Clock>) -> Result<Workshop, ApiError> {
        let store = Store::open(folder, &OpenOptions::default())?;
        let workshop = Workshop { store, clock, work: Work::default(), engines: Engines::default() };
        workshop.fold_waiting()?;
        workshop.finish_key_change()?;
        workshop.know_own_key()?;
        Ok(workshop)
    }

    /// The long work that is going on; its `what` is empty when there is none.
    pub fn work_view(&self) -> WorkView {
        self.work.view()
    }

    /// Asks the long work to stop. Nothing half-written stays behind.
    pub fn work_cancel(&self) {
        self.work.cancel();
    }

    /// What was found while opening, in English sentences for the log.
    pub fn notices(&self) -> Vec<String> {
        self.store.notices().iter().map(|notice| format!("{notice:?}")).collect()
    }

    /// Seals one event of a job and keeps it: the only door for change. Returns the job as it is now.
    pub(crate) fn keep(&self, job: &str, event: &Event) -> Result<Loaded, ApiError> {
        self.keep_with(job, event, &Settles::default())
    }

    /// As [`Workshop::keep`]; the draft of `form` is dropped in the same transaction.
    pub(crate) fn keep_and_settle(
        &self,
        job: &str,
        event: &Event,
        form: Option<&str>,
    ) -> Result<Loaded, ApiError> {
        self.keep_with(job, event, &Settles { form, ..Settles::default() })
    }

    /// As [`Workshop::keep`], with what the record settles.
    pub(crate) fn keep_with(
        &self,
        job: &str,
        event: &Event,
        settles: &Settles<'_>,
    ) -> Result<Loaded, ApiError> {
        let _turn = self.store.turn();
        let log = self.log(job)?;
        let signs = crate::checkpoints::follows(event);
        if signs {
            // A key that is locked or lost is asked for before the record, not after it.
            self.key()?;
        }
        for earlier in self.missing_successions(&log)? {
            self.append_event(&log, &earlier, &Settles::default())?;
        }
        let loaded = self.append_event(&log, event, settles)?;
        if signs {
            self.sign_checkpoint(&loaded.log)?;
        }
        Ok(loaded)
    }

    /// Adds to this device's log how its keys followed one another, as far as the log doesn't say it yet.
    pub(crate) fn keep_successions(&self, log: &LogId) -> Result<(), ApiError> {
        let _turn = self.store.turn();
        for earlier in self.missing_successions(log)? {
            self.append_event(log, &earlier, &Settles::default())?;
        }
        Ok(())
    }

    /// One record and the job's line of the list in one transaction. What the job as it stands doesn't allow, and what
    /// would not fold into it, is refused before it is kept.
    fn append_event(&self, log: &LogId, event: &Event, settles: &Settles<'_>) -> Result<Loaded, ApiError> {
        let records = self.records(&log.job)?;
        let mut job = if records.is_empty() { Job::default() } else { Job::fold(&records)? };
        job::permission::of_event(&job, event).map_err(ApiError::Refused)?;
        let sealed = self.seal(log, event)?;
        let kept = opened(&sealed.bytes, sealed.leaf, &by_digest(sealed.disclosures.clone()))?;
        job.add(&kept, records.last().map(|last| &last.record))?;
        let summary = crate::show::summary(&log.job, &job);
        self.store.append(&AppendRequest {
            summary: Some(&summary),
            settles_draft: settles.form,
            settles_intent: matches!(event, Event::PhotoKept(_)),
            settles_time_stamp: settles.time_stamp,
            ..AppendRequest::new(log, &sealed)
        })?;
        Ok(Loaded { log: log.clone(), job })
    }

    fn seal(&self, log: &LogId, event: &Event) -> Result<Sealed, ApiError> {
        let parts = event.parts()?;
        let new = evidence::NewRecord {
            kind: parts.kind,
            moment: self.clock.moment(),
            others: self.store.other_heads(log)?,
            photos: self.photo_refs(event)?,
            body: parts.body,
            withheld: parts.withheld,
        };
        let mut salts = Salts { failed: false };
        let sealed = evidence::seal(log, &self.store.head(log)?, new, &mut || salts.next())?;
        salts.check()?;
        Ok(sealed)
    }

    /// Reads a job back from its records.
    pub(crate) fn load(&self, job: &str) -> Result<Loaded, ApiError> {
        let log = self.log(job)?;
        let records = self.records(job)?;
        if records.is_empty() {
            return Err(ApiError::Unknown { what: "job", value: job.to_owned() });
        }
        Ok(Loaded { log, job: Job::fold(&records)? })
    }

    fn records(&self, job: &str) -> Result<Vec<KeptRecord>, ApiError> {
        self.records_with(job, self.store.disclosures(job)?)
    }

    /// The job as somebody knows it who was given these values only.
    pub(crate) fn fold_with(&self, job: &str, values: Vec<Disclosure>) -> Result<Job, ApiError> {
        Ok(Job::fold(&self.records_with(job, values)?)?)
    }

    fn records_with(&self, job: &str, values: Vec<Disclosure>) -> Result<Vec<KeptRecord>, ApiError> {
        let disclosures = by_digest(values);
        let stored = self.store.job_records(job)?;
        stored.iter().map(|stored| opened(&stored.bytes, stored.leaf, &disclosures)).collect()
    }

    /// This device's log of a job.
    pub(crate) fn log(&self, job: &str) -> Result<LogId, ApiError> {
        let shop = self.shop()?;
        Ok(LogId { shop: shop.shop_id, job: job.to_owned(), device: shop.device_id })
    }

    fn photo_refs(&self, event: &Event) -> Result<Vec<evidence::PhotoRef>, ApiError> {
        let kept =
            |digest| {
                let path = self
                    .store
                    .original_path(&digest)
                    .ok_or(ApiError::Unknown { what: "photo", value: digest.to_string() })?;
                let bytes = std::fs::metadata(&path).map(|data| data.len()).map_err(|source| {
                    ApiError::File { doing: "read", path: path.display().to_string(), source }
                })?;
                let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default();
                Ok(evidence::PhotoRef { sha256: digest, bytes, media_type: media_type(ending).to_owned() })
            };
        event.photos().into_iter().map(kept).collect()
    }
}

fn by_digest(disclosures: Vec<Disclosure>) -> BTreeMap<Digest, Disclosure> {
    disclosures.into_iter().map(|disclosure| (disclosure.digest(), disclosure)).collect()
}

/// A record with those of its withheld values that are at hand.
fn opened(
    bytes: &[u8],
    leaf: Digest,
    disclosures: &BTreeMap<Digest, Disclosure>,
) -> Result<KeptRecord, ApiError> {
    let record = evidence::Record::parse(bytes)?;
    let known = record.withheld.iter().filter_map(|digest| disclosures.get(digest));
    let opened = known.map(|d| (d.name().to_owned(), d.value().clone())).collect();
    Ok(KeptRecord { leaf, record, opened })
}

/// Media type of an original by the ending the store gave it.
pub(crate) fn media_type(ending: &str) -> &'static str {
    let kinds = [photo::Kind::Jpeg, photo::Kind::Png, photo::Kind::Webp, photo::Kind::Heic];
    kinds.into_iter().find(|kind| kind.extension() == ending).unwrap_or(photo::Kind::Unknown).media_type()
}

/// Random salts. The system's source can fail; then nothing may be sealed, because a guessable salt betrays its value.
struct Salts {
    failed: bool,
}

impl Salts {
    fn next(&mut self) -> [u8; 16] {
        let mut salt = [0; 16];
        self.failed |= getrandom::fill(&mut salt).is_err();
        salt
    }

    fn check(&self) -> Result<(), ApiError> {
        if self.failed { Err(ApiError::NoRandomness) } else { Ok(()) }
    }
}
