use std::collections::BTreeSet;
use std::fs::File;
use std::path::{Path, PathBuf};
use std::sync::{
    Arc, Mutex, MutexGuard, PoisonError, RwLock, RwLockReadGuard, RwLockWriteGuard, TryLockError,
};

use evidence::{DeviceKey, LogId};
use rusqlite::{Connection, Transaction, TransactionBehavior};

use crate::exposure::{self, Exposure};
use crate::folder::{self, Folder};
use crate::journal::{Entry, Journal, Planned};
use crate::known_keys::Known;
use crate::{Disk, FileKeys, KeyStore, Notice, RealDisk, StoreError, database};

/// What opening needs beyond the folder.
#[derive(Clone)]
pub struct OpenOptions {
    /// The storage that originals, journals and the key are written through.
    pub disk: Arc<dyn Disk>,
    /// Where the device's key lives; `None` for files in the data folder.
    pub keys: Option<Arc<dyn KeyStore>>,
    /// Whether the keys in the database are taken as known: it was just restored from a backup, which its passphrase
    /// protects.
    pub believe_keys: bool,
}

impl Default for OpenOptions {
    fn default() -> Self {
        Self { disk: Arc::new(RealDisk), keys: None, believe_keys: false }
    }
}

/// The data folder of one device: records, originals, key, drafts. One process at a time.
pub struct Store {
    pub(crate) folder: Folder,
    pub(crate) disk: Arc<dyn Disk>,
    /// Logs that can be read but not continued.
    pub(crate) damaged: Mutex<BTreeSet<i64>>,
    pub(crate) journal: Journal,
    database: Mutex<Connection>,
    pub(crate) keys: Arc<dyn KeyStore>,
    /// The key while it is unlocked.
    pub(crate) unlocked: Mutex<Option<DeviceKey>>,
    turn: Mutex<()>,
    /// Held for reading while originals are copied out, for writing while some are destroyed.
    files: RwLock<()>,
    notices: Vec<Notice>,
    /// The keys that may vouch for records.
    pub(crate) known: Mutex<Known>,
    /// What was found since, until somebody takes it.
    findings: Mutex<Vec<Notice>>,
    /// Logs whose journal was asked for values that the database lacks, with their size then.
    asked: Mutex<BTreeSet<(LogId, u64)>>,
    /// Declared last, because fields are dropped in order and the database must be closed first.
    _lock: File,
}

impl Store {
    /// Opens the folder, creating it where needed.
    ///
    /// Sweeps what a crash left behind, moves a damaged database aside, brings an old schema up to date, settles every
    /// journal that isn't as long as it was left and reads the newest logs; see [`Store::notices`] for what it found.
    /// Every other log is checked when it is read.
    ///
    /// # Errors
    /// [`StoreError::AlreadyOpen`], [`StoreError::ReadOnly`], [`StoreError::TooNew`], [`StoreError::Foreign`],
    /// [`StoreError::DiskFull`] and those of the files and the database. None of them changes what is kept.
    pub fn open(folder: &Path, options: &OpenOptions) -> Result<Self, StoreError> {
        match Self::open_once(folder, options) {
            // A page that opening came upon: the whole file is read, and set aside.
            Err(StoreError::Damaged { .. }) if !folder::mark_suspected(folder)? => {
                Self::open_once(folder, options)
            }
            opened => opened,
        }
    }

    fn open_once(folder: &Path, options: &OpenOptions) -> Result<Self, StoreError> {
        let disk = Arc::clone(&options.disk);
        disk.create_folder(folder).map_err(|error| StoreError::file("create", folder, error))?;
        let lock = folder::lock(folder)?;
        let exposed = exposure::close(folder);
        let folder = Folder::prepare(folder, disk.as_ref())?;
        let swept = folder.sweep()?;
        let database::Opened { connection, aside, older } = database::open(&folder.database())?;
        disk.sync_folder(folder.root()).map_err(|error| StoreError::file("sync", folder.root(), error))?;
        let mut notices = notices(swept, aside.clone());
        notices.extend(exposed.map(|Exposure { files, closed }| Notice::FolderExposed { files, closed }));
        let database = Mutex::new(connection);
        let journal = Journal::new(folder.logs());
        let files = || -> Arc<dyn KeyStore> { Arc::new(FileKeys::new(&folder.keys(), Arc::clone(&disk))) };
        let keys = options.keys.clone().unwrap_or_else(files);
        let (turn, unlocked, files) = (Mutex::new(()), Mutex::new(None), RwLock::new(()));
        let (damaged, findings, asked) = Default::default();
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
            known: Mutex::default(),
            findings,
            asked,
            _lock: lock,
        };
        let lost = aside.is_some() || store.holds_nothing()?;
        store.know_keys(older, options.believe_keys)?;
        let recovered = store.reconcile_journals(lost)?;
        // Records without settings mean that the database was lost as a whole.
        let back = |notice: &Notice| matches!(notice, Notice::RecordsRecovered { .. });
        let gone = recovered.iter().any(back) && store.settings()?.is_empty();
        store.notices.extend(recovered);
        if aside.is_some() || gone {
            let rebuilt = store.rebuild_from(&aside.unwrap_or_default())?;
            store.notices.push(Notice::DatabaseRebuilt(rebuilt));
        }
        store.check_newest()?;
        let found = store.take_findings();
        store.notices.extend(found);
        // Only a copy: a full or read-only disk must not keep the shop shut.
        let _ = store.mirror_settings();
        if store.finish_forgetting()?.is_some() {
            store.notices.push(Notice::ForgettingFinished);
        }
        let found = store.take_findings();
        store.notices.extend(found);
        Ok(store)
    }

    /// What opening found, in the order it was found; empty on an ordinary start.
    pub fn notices(&self) -> &[Notice] {
        &self.notices
    }

    /// What was found since opening, by reading or checking; each is told once.
    pub fn take_findings(&self) -> Vec<Notice> {
        std::mem::take(&mut *self.findings.lock().unwrap_or_else(PoisonError::into_inner))
    }

    /// Passes a result on; a page of the database that can't be read is noted, so that the next start reads all of it and sets
    /// the file aside.
    pub(crate) fn noted<T>(&self, result: Result<T, StoreError>) -> Result<T, StoreError> {
        if matches!(result, Err(StoreError::Damaged { .. })) {
            let _ = std::fs::write(self.folder.suspicion(), "");
        }
        result
    }

    pub(crate) fn findings_waiting(&self) -> usize {
        self.findings.lock().unwrap_or_else(PoisonError::into_inner).len()
    }

    pub(crate) fn tell(&self, found: impl IntoIterator<Item = Notice>) {
        self.findings.lock().unwrap_or_else(PoisonError::into_inner).extend(found);
    }

    /// Whether a log's journal wasn't asked yet for what the database lacks of it at this size.
    pub(crate) fn ask_once(&self, log: &LogId, size: u64) -> bool {
        self.asked.lock().unwrap_or_else(PoisonError::into_inner).insert((log.clone(), size))
    }

    pub(crate) fn is_damaged(&self, log: i64) -> bool {
        self.damaged.lock().unwrap_or_else(PoisonError::into_inner).contains(&log)
    }

    /// Whether the database is as a new one.
    fn holds_nothing(&self) -> Result<bool, StoreError> {
        let nothing = "SELECT NOT EXISTS (SELECT 1 FROM logs) AND NOT EXISTS (SELECT 1 FROM settings)";
        Ok(self.database().query_row(nothing, [], |row| row.get(0))?)
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
        let committed = || {
            let mut connection = self.database();
            let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
            let done = work(&transaction)?;
            transaction.commit()?;
            Ok(done)
        };
        self.noted(committed())
    }

    /// As [`Store::transact`]; then the journals get what was committed, before anybody hears of it.
    pub(crate) fn transact_journalled<T>(
        &self,
        work: impl FnOnce(&Transaction<'_>) -> Result<(T, Vec<Entry>), StoreError>,
    ) -> Result<T, StoreError> {
        let mut connection = self.database();
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let (done, entries) = work(&transaction)?;
        let plan = |entry| self.journal.plan(&transaction, entry);
        let planned: Vec<Planned> = entries.into_iter().map(plan).collect::<Result<_, _>>()?;
        transaction.commit()?;
        for planned in &planned {
            let aside = self.journal.carry_out(self.disk.as_ref(), &self.folder.temporary(), planned);
            self.tell(aside.map(|to| Notice::JournalDiffers { log: planned.log().origin(), to }));
        }
        Ok(done)
    }
}

fn notices(swept: usize, aside: Option<PathBuf>) -> Vec<Notice> {
    let swept = (swept > 0).then_some(Notice::LeftoversSwept { files: swept });
    let aside = aside.map(|to| Notice::DatabaseMovedAside { to });
    swept.into_iter().chain(aside).collect()
}
