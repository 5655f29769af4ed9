//! The one handle: a store, a world, a key. Every action goes through it.

use crate::ApiError;
use crate::view::WorkView;
use crate::work::Work;
use crate::world::{Clock, DeviceClock};
use evidence::{DeviceKey, LogId};
use job::{Event, Job, KeptRecord};
use std::path::Path;
use std::sync::Arc;
use store::{AppendRequest, OpenOptions, Store};

/// An open shop on a data folder.
pub struct Workshop {
    pub(crate) store: Store,
    pub(crate) clock: Arc<dyn Clock>,
    pub(crate) work: Work,
}

/// A job as it was loaded, with its own log.
pub(crate) struct Loaded {
    pub log: LogId,
    pub job: Job,
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
        Ok(Workshop { store, clock, work: Work::default() })
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
        self.keep_and_settle(job, event, None)
    }

    /// As [`Workshop::keep`]; the draft of `form` is dropped in the same transaction.
    pub(crate) fn keep_and_settle(
        &self,
        job: &str,
        event: &Event,
        form: Option<&str>,
    ) -> Result<Loaded, ApiError> {
        let _turn = self.store.turn();
        let log = self.log(job)?;
        self.seal_and_append(&log, event, form)?;
        let loaded = self.load(job)?;
        self.store.keep_summary(&crate::show::summary(job, &loaded.job))?;
        if crate::checkpoints::follows(event) {
            self.sign_checkpoint(&log)?;
        }
        Ok(loaded)
    }

    fn seal_and_append(&self, log: &LogId, event: &Event, form: Option<&str>) -> Result<(), ApiError> {
        let parts = event.parts()?;
        let photos = self.photo_refs(event)?;
        let new = evidence::NewRecord {
            kind: parts.kind,
            moment: self.clock.moment(),
            others: self.store.other_heads(log)?,
            photos,
            body: parts.body,
            withheld: parts.withheld,
        };
        let mut salts = Salts { failed: false };
        let sealed = evidence::seal(log, &self.store.head(log)?, new, &mut || salts.next())?;
        salts.check()?;
        let request = AppendRequest {
            settles_draft: form,
            settles_intent: matches!(event, Event::PhotoKept(_)),
            ..AppendRequest::new(log, &sealed)
        };
        self.store.append(&request)?;
        Ok(())
    }

    /// Reads a job back from its records.
    pub(crate) fn load(&self, job: &str) -> Result<Loaded, ApiError> {
        let log = self.log(job)?;
        let opened: std::collections::BTreeMap<_, _> =
            self.store.disclosures(job)?.into_iter().map(|d| (d.digest(), d)).collect();
        let mut records = Vec::new();
        for stored in self.store.job_records(job)? {
            let record = evidence::Record::parse(&stored.bytes)?;
            let known = record.withheld.iter().filter_map(|digest| opened.get(digest));
            let values = known.map(|d| (d.name().to_owned(), d.value().clone())).collect();
            records.push(KeptRecord { leaf: stored.leaf, record, opened: values });
        }
        if records.is_empty() {
            return Err(ApiError::Unknown { what: "job", value: job.to_owned() });
        }
        Ok(Loaded { log, job: Job::fold(&records)? })
    }

    /// This device's log of a job.
    pub(crate) fn log(&self, job: &str) -> Result<LogId, ApiError> {
        let shop = self.shop()?;
        Ok(LogId { shop: shop.shop_id, job: job.to_owned(), device: shop.device_id })
    }

    /// This device's key.
    pub(crate) fn key(&self) -> Result<DeviceKey, ApiError> {
        Ok(self.store.device_key()?.ok_or(ApiError::NotSetUp)?.key)
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
