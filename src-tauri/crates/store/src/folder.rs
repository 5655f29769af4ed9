use std::fs::{self, File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

use crate::disk::restrict as restrict_file;
use crate::{Access, Disk, StoreError};

const DATABASE: &str = "testimeter.sqlite";

/// Where everything lies within the data folder.
pub(crate) struct Folder {
    root: PathBuf,
    next_temporary: AtomicU64,
}

impl Folder {
    /// Creates what is missing and makes the names durable.
    pub(crate) fn prepare(root: &Path, disk: &dyn Disk) -> Result<Self, StoreError> {
        let folder = Self { root: root.to_path_buf(), next_temporary: AtomicU64::new(0) };
        for path in [folder.originals(), folder.logs(), folder.previews(), folder.keys(), folder.incoming()] {
            disk.create_folder(&path).map_err(|error| StoreError::file("create", &path, error))?;
        }
        restrict(&folder.keys())?;
        for path in [folder.originals(), folder.logs(), folder.keys(), folder.root.clone()] {
            disk.sync_folder(&path).map_err(|error| StoreError::file("sync", &path, error))?;
        }
        if let Some(parent) = root.parent().filter(|parent| !parent.as_os_str().is_empty()) {
            // The folder above may belong to the system, which then has made it durable already.
            let _ = disk.sync_folder(parent);
        }
        Ok(folder)
    }

    pub(crate) fn root(&self) -> &Path {
        &self.root
    }

    pub(crate) fn database(&self) -> PathBuf {
        self.root.join(DATABASE)
    }

    /// Lies there when a page of the database could not be read: the next start reads all of it.
    pub(crate) fn suspicion(&self) -> PathBuf {
        suspicion(&self.database())
    }

    pub(crate) fn originals(&self) -> PathBuf {
        self.root.join("originals")
    }

    pub(crate) fn logs(&self) -> PathBuf {
        self.root.join("logs")
    }

    pub(crate) fn settings(&self) -> PathBuf {
        self.root.join("settings.json")
    }

    pub(crate) fn previews(&self) -> PathBuf {
        self.root.join("previews")
    }

    pub(crate) fn keys(&self) -> PathBuf {
        self.root.join("keys")
    }

    /// The signed list of keys that may vouch for records.
    pub(crate) fn known_keys(&self) -> PathBuf {
        self.keys().join("known.note")
    }

    /// The same, signed by a key that is about to be taken into use.
    pub(crate) fn next_known_keys(&self) -> PathBuf {
        self.keys().join("known-next.note")
    }

    fn incoming(&self) -> PathBuf {
        self.root.join("incoming")
    }

    /// A path for a file that isn't durable yet, on the same file system as its final place.
    pub(crate) fn temporary(&self) -> PathBuf {
        let number = self.next_temporary.fetch_add(1, Ordering::Relaxed);
        self.incoming().join(format!("{number}.part"))
    }

    /// Removes what an earlier run left half-written; nothing there was ever acknowledged. Returns how many.
    pub(crate) fn sweep(&self) -> Result<usize, StoreError> {
        let incoming = self.incoming();
        let listed = fs::read_dir(&incoming).map_err(|error| StoreError::file("list", &incoming, error))?;
        let mut swept = 0;
        for path in listed.filter_map(|entry| Some(entry.ok()?.path())) {
            fs::remove_file(&path).map_err(|error| StoreError::file("remove", &path, error))?;
            swept += 1;
        }
        Ok(swept)
    }
}

/// The mark beside a database of which a page could not be read.
pub(crate) fn suspicion(database: &Path) -> PathBuf {
    database.with_extension("suspect")
}

/// Marks the database as one of which a page could not be read; says whether it was marked already.
pub(crate) fn mark_suspected(root: &Path) -> Result<bool, StoreError> {
    let mark = suspicion(&root.join(DATABASE));
    if mark.exists() {
        return Ok(true);
    }
    fs::write(&mark, "").map_err(|error| StoreError::file("write", &mark, error))?;
    Ok(false)
}

/// Takes the folder for this process alone. The lock ends with the process, however it ends.
pub(crate) fn lock(root: &Path) -> Result<File, StoreError> {
    let path = root.join("lock");
    let mut options = OpenOptions::new();
    options.write(true).create(true).truncate(false);
    restrict_file(&mut options, Access::OwnerOnly);
    let file = options.open(&path).map_err(|error| StoreError::file("open", &path, error))?;
    match try_for_a_moment(&file) {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(StoreError::AlreadyOpen { folder: root.to_path_buf() }),
        Err(TryLockError::Error(error)) => Err(StoreError::file("lock", &path, error)),
    }
}

/// A program being started holds copies of our open files for an instant, a lock of the moment before included.
fn try_for_a_moment(file: &File) -> Result<(), TryLockError> {
    for _ in 0..20 {
        match file.try_lock() {
            Err(TryLockError::WouldBlock) => std::thread::sleep(Duration::from_millis(10)),
            tried => return tried,
        }
    }
    file.try_lock()
}

#[cfg(unix)]
fn restrict(path: &Path) -> Result<(), StoreError> {
    use std::os::unix::fs::PermissionsExt;
    let owner_only = fs::Permissions::from_mode(0o700);
    fs::set_permissions(path, owner_only).map_err(|error| StoreError::file("protect", path, error))
}

#[cfg(not(unix))]
fn restrict(_path: &Path) -> Result<(), StoreError> {
    Ok(())
}
