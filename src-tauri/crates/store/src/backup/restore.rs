use std::collections::BTreeSet;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use evidence::{DeviceKey, Digest};

use crate::backup::read::{Taker, walk};
use crate::backup::{BackupContents, Watch};
use crate::log::digest;
use crate::{Access, Disk, FileKeys, NewFile, Notice, OpenOptions, Store, StoreError, VerifiedLog};

/// As whom this machine goes on.
pub enum RestoreAs<'a> {
    /// As the device that made the backup, with its key. That device must then never be used again: two devices that
    /// write one log make a fork.
    SameDevice,
    /// As another device of the shop, with a key of its own. The logs of the backup stay, as another device's.
    /// The caller then gives this device its id.
    SecondDevice(&'a DeviceKey),
}

/// What was restored.
#[derive(Clone, Debug)]
pub struct RestoreReport {
    /// What the backup held.
    pub contents: BackupContents,
    /// Every log, read and verified to its last record.
    pub logs: Vec<VerifiedLog>,
    /// Originals that records name and that aren't here, other than those forgotten on request.
    pub originals_missing: Vec<Digest>,
    /// Public keys (PEM) of the device that made the backup, oldest first.
    pub public_keys: Vec<String>,
}

/// Restores a backup into an empty folder, which need not exist yet.
///
/// Everything is written beside the folder, verified (every file's hash, every log's chain, root and checkpoints) and
/// only then renamed into place: a failure leaves the folder as it was.
///
/// # Errors
/// [`StoreError::NotEmpty`]; those of [`crate::check_backup`]; [`StoreError::LogDamaged`] and those of the files.
pub fn restore(
    input: &mut dyn Read,
    passphrase: &str,
    folder: &Path,
    restore_as: &RestoreAs<'_>,
    options: &OpenOptions,
    watch: Watch<'_>,
) -> Result<RestoreReport, StoreError> {
    require_empty(folder)?;
    let staging = beside(folder);
    let _ = fs::remove_dir_all(&staging);
    let restored = stage(input, passphrase, &staging, restore_as, options, watch)
        .and_then(|report| move_into_place(&staging, folder, options.disk.as_ref()).map(|()| report));
    if restored.is_err() {
        let _ = fs::remove_dir_all(&staging);
    }
    restored
}

fn stage(
    input: &mut dyn Read,
    passphrase: &str,
    staging: &Path,
    restore_as: &RestoreAs<'_>,
    options: &OpenOptions,
    watch: Watch<'_>,
) -> Result<RestoreReport, StoreError> {
    let mut unpacking = Unpacking::new(staging, Arc::clone(&options.disk), restore_as);
    unpacking.make_folder("keys")?;
    let contents = walk(input, passphrase, &mut unpacking, watch)?;
    unpacking.sync_folders()?;
    let public_keys = unpacking.public_keys;
    let keys = FileKeys::new(&staging.join("keys"), Arc::clone(&options.disk));
    if let RestoreAs::SecondDevice(key) = restore_as {
        options.keys.as_deref().unwrap_or(&keys).keep(key, None)?;
    }
    // What the passphrase protected is believed about its keys.
    let store = Store::open(staging, &OpenOptions { believe_keys: true, ..options.clone() })?;
    if let Some(notice) = store.notices().iter().find(|notice| is_damage(notice)) {
        let damage = Some(format!("its database doesn't hold: {notice:?}"));
        return Err(StoreError::BackupDamaged(Box::new(BackupContents { damage, ..contents })));
    }
    let (logs, originals_missing) = (store.verify_logs()?, store.originals_missing()?);
    Ok(RestoreReport { contents, logs, originals_missing, public_keys })
}

fn is_damage(notice: &Notice) -> bool {
    // On storage without modes every folder is open to others, this one too.
    !matches!(notice, Notice::LeftoversSwept { .. } | Notice::FolderExposed { .. })
}

impl Store {
    /// Originals that records name and that aren't kept, other than those forgotten on request.
    ///
    /// # Errors
    /// Those of the database.
    pub fn originals_missing(&self) -> Result<Vec<Digest>, StoreError> {
        let named: BTreeSet<Digest> = {
            let connection = self.database();
            let all = "SELECT DISTINCT sha256 FROM photos WHERE sha256 NOT IN (SELECT digest FROM forgotten)";
            let mut statement = connection.prepare(all)?;
            statement.query_map([], |row| digest(row, 0))?.collect::<Result<_, _>>()?
        };
        Ok(named.into_iter().filter(|digest| self.original_path(digest).is_none()).collect())
    }
}

/// Writes the backup's files below a folder, durably.
struct Unpacking {
    folder: PathBuf,
    disk: Arc<dyn Disk>,
    private_keys: bool,
    made: BTreeSet<PathBuf>,
    file: Option<Box<dyn NewFile>>,
    path: PathBuf,
    public_key: Option<Vec<u8>>,
    public_keys: Vec<String>,
}

impl Unpacking {
    fn new(folder: &Path, disk: Arc<dyn Disk>, restore_as: &RestoreAs<'_>) -> Self {
        Self {
            folder: folder.to_path_buf(),
            disk,
            private_keys: matches!(restore_as, RestoreAs::SameDevice),
            made: BTreeSet::new(),
            file: None,
            path: PathBuf::new(),
            public_key: None,
            public_keys: Vec::new(),
        }
    }

    fn make_folder(&mut self, within: &str) -> Result<(), StoreError> {
        let path = self.folder.join(within);
        self.disk.create_folder(&path).map_err(|error| StoreError::file("create", &path, error))?;
        let upwards = path.ancestors().take_while(|above| above.starts_with(&self.folder));
        self.made.extend(upwards.map(Path::to_path_buf));
        Ok(())
    }

    /// Innermost first.
    fn sync_folders(&self) -> Result<(), StoreError> {
        let sync = |path: &PathBuf| {
            self.disk.sync_folder(path).map_err(|error| StoreError::file("sync", path, error))
        };
        self.made.iter().rev().try_for_each(sync)
    }
}

impl Taker for Unpacking {
    fn begin(&mut self, path: &str) -> Result<(), StoreError> {
        self.public_key = path.ends_with(".pub.pem").then(Vec::new);
        let key = path.starts_with("keys/");
        self.file = None;
        if key && !self.private_keys {
            return Ok(());
        }
        self.make_folder(path.rsplit_once('/').map_or("", |(folder, _)| folder))?;
        self.path = self.folder.join(path);
        let created = self.disk.create(&self.path, Access::OwnerOnly);
        self.file = Some(created.map_err(|error| StoreError::file("create", &self.path, error))?);
        Ok(())
    }

    fn more(&mut self, bytes: &[u8]) -> Result<(), StoreError> {
        if let Some(key) = &mut self.public_key {
            key.extend_from_slice(bytes);
        }
        let Some(file) = &mut self.file else { return Ok(()) };
        file.write(bytes).map_err(|error| StoreError::file("write", &self.path, error))
    }

    fn whole(&mut self) -> Result<(), StoreError> {
        if let Some(pem) = self.public_key.take().and_then(|bytes| String::from_utf8(bytes).ok()) {
            self.public_keys.push(pem);
        }
        let Some(mut file) = self.file.take() else { return Ok(()) };
        file.sync().map_err(|error| StoreError::file("sync", &self.path, error))
    }
}

pub(crate) fn require_empty(folder: &Path) -> Result<(), StoreError> {
    match fs::read_dir(folder) {
        Ok(mut entries) => match entries.next() {
            None => Ok(()),
            Some(_) => Err(StoreError::NotEmpty { folder: folder.to_path_buf() }),
        },
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(()),
        Err(error) => Err(StoreError::file("list", folder, error)),
    }
}

pub(crate) fn beside(folder: &Path) -> PathBuf {
    let mut name = folder.file_name().unwrap_or_default().to_owned();
    name.push(".part");
    folder.with_file_name(name)
}

pub(crate) fn move_into_place(staging: &Path, folder: &Path, disk: &dyn Disk) -> Result<(), StoreError> {
    if folder.exists() {
        // Only an empty folder can be removed like this.
        fs::remove_dir(folder).map_err(|error| StoreError::file("replace", folder, error))?;
    }
    disk.rename(staging, folder).map_err(|error| StoreError::file("rename", folder, error))?;
    if let Some(parent) = folder.parent().filter(|parent| !parent.as_os_str().is_empty()) {
        let _ = disk.sync_folder(parent);
    }
    Ok(())
}
