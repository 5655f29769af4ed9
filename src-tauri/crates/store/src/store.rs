use std::collections::BTreeSet;
use std::fs::File;
use std::path::{Path, PathBuf};
use std::sync::{
    Arc, Mutex, MutexGuard, PoisonError, RwLock, RwLockReadGuard, RwLockWriteGuard, TryLockError,
};

use evidence::DeviceKey;
use rusqlite::{Connection, Transaction, TransactionBehavior};

use crate::exposure::{self, Exposure};
use crate::folder::{self, Folder};
use crate::journal::{Entry, Journal};
use crate::{Disk, FileKeys, KeyStore, RealDisk, Rebuilt, StoreError, database, tail};

/// What opening needs beyond the folder.
#[derive(Clone)]
pub struct OpenOptions {
    /// The storage that originals, journals and the key are written through.
    pub disk: Arc<dyn Disk>,
    /// Where the device's key lives; `None` for files in the data folder.
    pub keys: Option<Arc<dyn KeyStore>>,
}

impl Default for OpenOptions {
    fn default() -> Self {
        Self { disk: Arc::new(RealDisk), keys: None }
    }
}

/// Something found while opening that the user should hear about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// The database was damaged: it was renamed, nothing deleted, and a new one begun.
    DatabaseMovedAside {
        /// Where the damaged file is now.
        to: PathBuf,
    },
    /// One log no longer agrees with its stored root. It can be read, but nothing can be added to it.
    LogDamaged {
        /// Origin of the log.
        log: String,
        /// What disagrees.
        why: String,
    },
    /// A lost database was built again from the journals, the settings' file and what could be read of the old one.
    /// Fold the jobs that [`Store::jobs_to_fold`] names.
    DatabaseRebuilt(Rebuilt),
    /// A log's journal held records that the database had lost; they are back.
    RecordsRecovered {
        /// Origin of the log.
        log: String,
        /// How many records came back.
        records: u64,
        /// What is wrong with the first line of the journal that stayed out.
        complaint: Option<String>,
    },
    /// A log's journal and the database hold different records at one place: both are kept. Compare them.
    JournalDiffers {
        /// Origin of the log.
        log: String,
        /// Where the journal is now.
        to: PathBuf,
    },
    /// An earlier run ended while destroying what was to be forgotten; the rest is destroyed now.
    ForgettingFinished,
    /// Others on this system could read files of the folder: tell the user, since they may have been copied.
    FolderExposed {
        /// How many files.
        files: usize,
        /// Whether they are closed to others now.
        closed: bool,
    },
    /// An earlier run ended while writing; what it had not yet acknowledged was removed.
    LeftoversSwept {
        /// How many files.
        files: usize,
    },
}

/// The data folder of one device: records, originals, key, drafts. One process at a time.
pub struct Store {
    pub(crate) folder: Folder,
    pub(crate) disk: Arc<dyn Disk>,
    pub(crate) damaged: BTreeSet<i64>,
    pub(crate) journal: Journal,
    database: Mutex<Connection>,
    pub(crate) keys: Arc<dyn KeyStore>,
    /// The key while it is unlocked.
    pub(crate) unlocked: Mutex<Option<DeviceKey>>,
    turn: Mutex<()>,
    /// Held for reading while originals are copied out, for writing while some are destroyed.
    files: RwLock<()>,
    notices: Vec<Notice>,
    /// Declared last, because fields are dropped in order and the database must be closed first.
    _lock: File,
}

impl Store {
    /// Opens the folder, creating it where needed.
    ///
    /// Sweeps what a crash left behind, moves a damaged database aside, brings an old schema up to date and
    /// recomputes every log's tail and root; see [`Store::notices`] for what it found.
    ///
    /// # Errors
    /// [`StoreError::AlreadyOpen`], [`StoreError::ReadOnly`], [`StoreError::TooNew`], [`StoreError::Foreign`],
    /// [`StoreError::DiskFull`] and those of the files and the database. None of them changes what is kept.
    pub fn open(folder: &Path, options: &OpenOptions) -> Result<Self, StoreError> {
        let disk = Arc::clone(&options.disk);
        disk.create_folder(folder).map_err(|error| StoreError::file("create", folder, error))?;
        let lock = folder::lock(folder)?;
        let exposed = exposure::close(folder);
        let folder = Folder::prepare(folder, disk.as_ref())?;
        let swept = folder.sweep()?;
        let (connection, aside) = database::open(&folder.database())?;
        disk.sync_folder(folder.root()).map_err(|error| StoreError::file("sync", folder.root(), error))?;
        let damaged = tail::check(&connection)?;
        let mut notices = notices(swept, aside.clone(), &damaged);
        notices.extend(exposed.map(|Exposure { files, closed }| Notice::FolderExposed { files, closed }));
        let damaged = damaged.into_iter().map(|damage| damage.log).collect();
        let database = Mutex::new(connection);
        let journal = Journal::new(folder.logs());
        let files = || -> Arc<dyn KeyStore> { Arc::new(FileKeys::new(&folder.keys(), Arc::clone(&disk))) };
        let keys = options.keys.clone().unwrap_or_else(files);
        let (turn, unlocked, files) = (Mutex::new(()), Mutex::new(None), RwLock::new(()));
        let mut store = Self {
            folder,
            disk,
            damaged,
            journal,
            database,
            keys,
            unlocked,
            turn,
            files,
            notices,
            _lock: lock,
        };
        let recovered = store.reconcile_journals()?;
        // Records without settings mean that the database was lost as a whole.
        let gone = !recovered.is_empty() && store.settings()?.is_empty();
        store.notices.extend(recovered);
        if aside.is_some() || gone {
            let rebuilt = store.rebuild_from(&aside.unwrap_or_default())?;
            store.notices.push(Notice::DatabaseRebuilt(rebuilt));
        }
        // Only a copy: a full or read-only disk must not keep the shop shut.
        let _ = store.mirror_settings();
        if store.finish_forgetting()?.is_some() {
            store.notices.push(Notice::ForgettingFinished);
        }
        Ok(store)
    }

    /// What opening found, in the order it was found; empty on an ordinary start.
    pub fn notices(&self) -> &[Notice] {
        &self.notices
    }

    /// The data folder.
    pub fn folder(&self) -> &Path {
        self.folder.root()
    }

    /// Why the newest records may stand in the database alone, when a journal could not be written.
    pub fn journal_trouble(&self) -> Option<String> {
        self.journal.trouble()
    }

    /// Holds every other writer back from reading a log's head until its next record is appended.
    ///
    /// Without it two actions at once could seal for the same place, and the second would be refused as a fork.
    pub fn turn(&self) -> MutexGuard<'_, ()> {
        self.turn.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Keeps files from being destroyed while they are copied out.
    pub(crate) fn hold_files(&self) -> RwLockReadGuard<'_, ()> {
        self.files.read().unwrap_or_else(PoisonError::into_inner)
    }

    /// Keeps files from being copied out while some are destroyed; refuses while a copy is being written.
    pub(crate) fn take_files(&self) -> Result<RwLockWriteGuard<'_, ()>, StoreError> {
        match self.files.try_write() {
            Ok(guard) => Ok(guard),
            Err(TryLockError::Poisoned(poisoned)) => Ok(poisoned.into_inner()),
            Err(TryLockError::WouldBlock) => Err(StoreError::Busy),
        }
    }

    pub(crate) fn database(&self) -> MutexGuard<'_, Connection> {
        // A panic elsewhere can't have left a transaction half-done: dropping one rolls it back.
        self.database.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Runs the work in one transaction; when it returns `Ok`, the commit is durable.
    pub(crate) fn transact<T>(
        &self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        let mut connection = self.database();
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let done = work(&transaction)?;
        transaction.commit()?;
        Ok(done)
    }

    /// As [`Store::transact`]; then the journals get what was committed, before anybody hears of it.
    pub(crate) fn transact_journalled<T>(
        &self,
        work: impl FnOnce(&Transaction<'_>) -> Result<(T, Vec<Entry>), StoreError>,
    ) -> Result<T, StoreError> {
        let mut connection = self.database();
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let (done, entries) = work(&transaction)?;
        transaction.commit()?;
        for entry in &entries {
            self.journal.add(self.disk.as_ref(), &self.folder.temporary(), &connection, entry);
        }
        Ok(done)
    }
}

fn notices(swept: usize, aside: Option<PathBuf>, damaged: &[tail::Damage]) -> Vec<Notice> {
    let swept = (swept > 0).then_some(Notice::LeftoversSwept { files: swept });
    let aside = aside.map(|to| Notice::DatabaseMovedAside { to });
    let logs = damaged
        .iter()
        .map(|damage| Notice::LogDamaged { log: damage.origin.clone(), why: damage.why.clone() });
    swept.into_iter().chain(aside).chain(logs).collect()
}
