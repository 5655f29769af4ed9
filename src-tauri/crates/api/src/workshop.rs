//! The one handle: a store, a world, a key. Every action goes through it.

use crate::ApiError;
use crate::act::Folds;
use crate::actions::ExaminedFiles;
use crate::actions::checking::Pieces;
use crate::actions::seen::SeenPhotos;
use crate::closed_jobs::ClosedJobs;
use crate::engines::Engines;
use crate::plans::Plans;
use crate::view::{NoticeView, WorkView};
use crate::work::Work;
use crate::world::{Clock, DeviceClock};
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::{Arc, Mutex};
use store::{OpenOptions, Store};

/// An open shop on a data folder.
pub struct Workshop {
    pub(crate) store: Store,
    pub(crate) clock: Arc<dyn Clock>,
    pub(crate) work: Work,
    pub(crate) engines: Engines,
    pub(crate) plans: Plans,
    /// What was found in the originals' files since the start.
    pub(crate) examined: Mutex<ExaminedFiles>,
    /// Addresses of the time-stamp authorities that didn't answer in the last round.
    pub(crate) silent: Mutex<BTreeSet<String>>,
    pub(crate) folds: Folds,
    pub(crate) closed_jobs: ClosedJobs,
    /// What opening found and could not be kept, on a full disk.
    pub(crate) unkept_notices: Mutex<Vec<NoticeView>>,
    /// The weekly check of everything, in pieces.
    pub(crate) pieces: Mutex<Pieces>,
    /// What photos were read as since the start.
    pub(crate) seen: Mutex<SeenPhotos>,
    /// Held while a photo's number is read: one after the other, and none twice.
    pub(crate) reader: Mutex<()>,
}

impl Workshop {
    /// Opens a data folder with the device's own clock.
    ///
    /// # Errors
    /// A second running copy, a folder that can't be written to, a database of a newer version.
    pub fn open(folder: &Path) -> Result<Workshop, ApiError> {
        Workshop::open_at(folder, Arc::new(DeviceClock))
    }

    /// Opens a data folder with a clock that is passed in. What opening finds is kept as notices for the user.
    ///
    /// # Errors
    /// As [`Workshop::open`].
    pub fn open_at(folder: &Path, clock: Arc<dyn Clock>) -> Result<Workshop, ApiError> {
        let store = Store::open(folder, &OpenOptions::default())?;
        let workshop = Workshop {
            store,
            clock,
            work: Work::default(),
            engines: Engines::default(),
            plans: Plans::default(),
            examined: Mutex::default(),
            silent: Mutex::default(),
            folds: Folds::default(),
            closed_jobs: ClosedJobs::default(),
            unkept_notices: Mutex::default(),
            pieces: Mutex::default(),
            seen: Mutex::default(),
            reader: Mutex::default(),
        };
        workshop.fold_waiting()?;
        workshop.finish_key_change()?;
        workshop.know_own_key()?;
        workshop.keep_notices_of_opening();
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
}
