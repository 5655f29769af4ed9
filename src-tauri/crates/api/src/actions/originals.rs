//! What became of the originals: whether the bytes are those that were sealed, what they carry, and which are lost.

use crate::act::{Loaded, Settles};
use crate::view::OriginalState;
use crate::{ApiError, Workshop};
use evidence::{Digest, Record};
use job::Event;
use job::event::{FoundInstead, MissingPhoto, PhotoMissing};
use photo::Carries;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::PoisonError;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::SystemTime;

/// What was found in an original's file.
#[derive(Clone, Debug)]
pub(crate) struct Examined {
    pub state: OriginalState,
    /// What it carries besides the picture.
    pub carries: BTreeSet<Carries>,
    /// A copy without that can be made.
    pub can_strip: bool,
}

/// Length and time of change of a file that was examined: as long as both are the same it isn't read again.
type Sign = (u64, Option<SystemTime>);
/// What was examined since the start, by hash. May be lost: everything can be read again.
pub(crate) type ExaminedFiles = BTreeMap<Digest, (Sign, Examined)>;

impl Examined {
    const fn lost(state: OriginalState) -> Examined {
        Examined { state, carries: BTreeSet::new(), can_strip: false }
    }

    fn of(bytes: &[u8]) -> Examined {
        let carries = photo::carried(bytes);
        // What can't be taken apart may carry anything.
        let can_strip = carries.is_ok() && photo::Kind::of(bytes) != photo::Kind::Heic;
        let carries = carries.unwrap_or_else(|_| BTreeSet::from([Carries::Other]));
        Examined { state: OriginalState::Here, carries, can_strip }
    }

    pub fn is_here(&self) -> bool {
        self.state == OriginalState::Here
    }
}

impl Workshop {
    /// What is in an original's file. Read once, and again when the file was changed: enough for what is shown. What goes out
    /// is asked of [`Workshop::examine_anew`].
    pub(crate) fn examine(&self, digest: &Digest) -> Examined {
        let Some(sign) = self.sign_of(digest) else { return Examined::lost(OriginalState::Missing) };
        let known = self.examined.lock().unwrap_or_else(PoisonError::into_inner).get(digest).cloned();
        match known {
            Some((known, examined)) if known == sign => examined,
            _ => self.examine_anew(digest),
        }
    }

    /// The same, read now.
    pub(crate) fn examine_anew(&self, digest: &Digest) -> Examined {
        let sign = self.sign_of(digest);
        let examined = match self.store.original(digest) {
            Ok(bytes) => Examined::of(&bytes),
            Err(store::StoreError::OriginalMissing { .. }) => Examined::lost(OriginalState::Missing),
            Err(_) => Examined::lost(OriginalState::Damaged),
        };
        if let Some(sign) = sign {
            let mut known = self.examined.lock().unwrap_or_else(PoisonError::into_inner);
            known.insert(*digest, (sign, examined.clone()));
        }
        examined
    }

    fn sign_of(&self, digest: &Digest) -> Option<Sign> {
        let data = std::fs::metadata(self.store.original_path(digest)?).ok()?;
        Some((data.len(), data.modified().ok()))
    }

    /// The bytes under a hash are here and are those of the hash.
    pub(crate) fn is_sound(&self, digest: &Digest) -> bool {
        self.examine(digest).is_here()
    }

    /// Refuses what is lost or damaged, in the store's words.
    pub(crate) fn require_sound(&self, digest: &Digest) -> Result<(), ApiError> {
        match self.examine(digest).state {
            OriginalState::Here => Ok(()),
            OriginalState::Damaged => Err(store::StoreError::OriginalDamaged { digest: *digest }.into()),
            _ => Err(store::StoreError::OriginalMissing { digest: *digest }.into()),
        }
    }

    /// Every photo of a job with what became of its original, for what is shown.
    pub(crate) fn examine_all(&self, job: &job::Job) -> BTreeMap<Digest, Examined> {
        let examine = |digest: &Digest| self.forgotten(job, digest).unwrap_or_else(|| self.examine(digest));
        job.photos.keys().map(|digest| (*digest, examine(digest))).collect()
    }

    /// The same, each original read now: nothing goes out that isn't what was sealed.
    ///
    /// # Errors
    /// [`ApiError::Cancelled`].
    pub(crate) fn examine_all_anew(&self, job: &job::Job) -> Result<BTreeMap<Digest, Examined>, ApiError> {
        let photos: Vec<Digest> = job.photos.keys().copied().collect();
        let done = AtomicUsize::new(0);
        let examined = photos.par_iter().map(|digest| {
            self.work.count("originals", done.fetch_add(1, Ordering::Relaxed), photos.len())?;
            Ok((*digest, self.forgotten(job, digest).unwrap_or_else(|| self.examine_anew(digest))))
        });
        examined.collect()
    }

    fn forgotten(&self, job: &job::Job, digest: &Digest) -> Option<Examined> {
        let forgotten = job.has_forgotten(digest) && !self.is_kept(digest);
        forgotten.then(|| Examined::lost(OriginalState::Forgotten))
    }

    fn is_kept(&self, digest: &Digest) -> bool {
        self.store.original_path(digest).is_some()
    }

    /// Seals which originals this device kept and no longer has, as far as no record says it yet. The caller holds the turn.
    ///
    /// A photo that only another device's log names may never have been here: nothing is said of it.
    pub(crate) fn say_missing(
        &self,
        loaded: &mut Loaded,
        examined: &BTreeMap<Digest, Examined>,
    ) -> Result<(), ApiError> {
        let lost = |(digest, examined): (&Digest, &Examined)| {
            let found = match examined.state {
                OriginalState::Missing => FoundInstead::Nothing,
                OriginalState::Damaged => FoundInstead::OtherBytes,
                OriginalState::Here | OriginalState::Forgotten => return None,
            };
            (!loaded.job.missing.contains_key(digest)).then_some(MissingPhoto { original: *digest, found })
        };
        let mut missing: Vec<MissingPhoto> = examined.iter().filter_map(lost).collect();
        if missing.is_empty() {
            return Ok(());
        }
        let own = self.photos_of_own_log(loaded)?;
        missing.retain(|photo| own.contains(&photo.original));
        if missing.is_empty() {
            return Ok(());
        }
        self.admit(loaded, &Event::PhotoMissing(PhotoMissing { missing }), &Settles::default())
    }

    fn photos_of_own_log(&self, loaded: &Loaded) -> Result<BTreeSet<Digest>, ApiError> {
        let records = self.store.job_records(&loaded.log.job)?;
        let own = records.iter().filter(|record| record.device == loaded.log.device);
        let named =
            own.filter_map(|record| Record::parse(&record.bytes).ok()).flat_map(|record| record.photos);
        Ok(named.map(|photo| photo.sha256).collect())
    }
}
