use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::Path;

use crate::StoreError;

/// Who may read a new file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Access {
    /// As the system's default has it: for a copy in open forms, which others are meant to read.
    Usual,
    /// The owning user alone (mode 0600 where the system has modes).
    OwnerOnly,
}

/// The few steps by which a file becomes durable, one method each, so that a test can lose any of them.
pub trait Disk: Send + Sync {
    /// Creates a folder and those above it, for the owning user alone (mode 0700); an existing one stays as it is.
    ///
    /// # Errors
    /// What the system says.
    fn create_folder(&self, path: &Path) -> io::Result<()>;
    /// Creates a file that must not exist yet.
    ///
    /// # Errors
    /// What the system says.
    fn create(&self, path: &Path, access: Access) -> io::Result<Box<dyn NewFile>>;
    /// Opens an existing file to add to its end.
    ///
    /// # Errors
    /// What the system says.
    fn append(&self, path: &Path) -> io::Result<Box<dyn NewFile>>;
    /// Removes a file.
    ///
    /// # Errors
    /// What the system says.
    fn remove(&self, path: &Path) -> io::Result<()>;
    /// Renames within one file system, replacing what was there.
    ///
    /// # Errors
    /// What the system says.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Makes the names in a folder survive a loss of power.
    ///
    /// # Errors
    /// What the system says.
    fn sync_folder(&self, path: &Path) -> io::Result<()>;
}

/// A file being written, from its beginning or at its end.
pub trait NewFile {
    /// Appends all the bytes.
    ///
    /// # Errors
    /// What the system says.
    fn write(&mut self, bytes: &[u8]) -> io::Result<()>;
    /// Makes the bytes survive a loss of power.
    ///
    /// # Errors
    /// What the system says.
    fn sync(&mut self) -> io::Result<()>;
}

/// The device's own storage.
#[derive(Clone, Copy, Debug, Default)]
pub struct RealDisk;

impl Disk for RealDisk {
    fn create_folder(&self, path: &Path) -> io::Result<()> {
        owned_folder(path)
    }

    fn create(&self, path: &Path, access: Access) -> io::Result<Box<dyn NewFile>> {
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        restrict(&mut options, access);
        Ok(Box::new(options.open(path)?))
    }

    fn append(&self, path: &Path) -> io::Result<Box<dyn NewFile>> {
        Ok(Box::new(OpenOptions::new().append(true).open(path)?))
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    #[cfg(unix)]
    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        File::open(path)?.sync_all()
    }

    /// Elsewhere a folder can't be opened as a file, and renames are journalled by the file system.
    #[cfg(not(unix))]
    fn sync_folder(&self, _path: &Path) -> io::Result<()> {
        Ok(())
    }
}

impl NewFile for File {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.write_all(bytes)
    }

    /// `sync_all` is F_FULLFSYNC on Apple systems, whose plain fsync stops at the drive's cache.
    fn sync(&mut self) -> io::Result<()> {
        self.sync_all()
    }
}

/// Bytes on their way to their final place.
pub(crate) struct Keeping<'a> {
    pub(crate) temporary: &'a Path,
    pub(crate) target: &'a Path,
    pub(crate) access: Access,
    /// Folders whose names must be durable, innermost first.
    pub(crate) folders: &'a [&'a Path],
}

/// Writes, syncs, renames, syncs the folders; when it returns, the file survives a loss of power.
pub(crate) fn keep(disk: &dyn Disk, keeping: &Keeping<'_>, bytes: &[u8]) -> Result<(), StoreError> {
    let written = write_synced(disk, keeping, bytes);
    if written.is_err() {
        // A part-written file would only take up the space that ran out; the next start sweeps it otherwise.
        let _ = fs::remove_file(keeping.temporary);
    }
    written?;
    for folder in keeping.folders {
        disk.sync_folder(folder).map_err(|error| StoreError::file("sync", folder, error))?;
    }
    Ok(())
}

fn write_synced(disk: &dyn Disk, keeping: &Keeping<'_>, bytes: &[u8]) -> Result<(), StoreError> {
    let path = keeping.temporary;
    let mut file =
        disk.create(path, keeping.access).map_err(|error| StoreError::file("create", path, error))?;
    file.write(bytes).map_err(|error| StoreError::file("write", path, error))?;
    file.sync().map_err(|error| StoreError::file("sync", path, error))?;
    disk.rename(path, keeping.target).map_err(|error| StoreError::file("rename", path, error))
}

/// Creates a folder and those above it that are missing, for the owning user alone where the system has modes.
#[cfg(unix)]
pub(crate) fn owned_folder(path: &Path) -> io::Result<()> {
    use std::os::unix::fs::DirBuilderExt;
    fs::DirBuilder::new().recursive(true).mode(0o700).create(path)
}

#[cfg(not(unix))]
pub(crate) fn owned_folder(path: &Path) -> io::Result<()> {
    fs::create_dir_all(path)
}

/// Writes a file that may be lost, for the owning user alone, replacing what was there.
pub(crate) fn write_owned(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut options = OpenOptions::new();
    options.write(true).create(true).truncate(true);
    restrict(&mut options, Access::OwnerOnly);
    options.open(path)?.write_all(bytes)
}

#[cfg(unix)]
pub(crate) fn restrict(options: &mut OpenOptions, access: Access) {
    use std::os::unix::fs::OpenOptionsExt;
    if access == Access::OwnerOnly {
        options.mode(0o600);
    }
}

#[cfg(not(unix))]
pub(crate) fn restrict(_options: &mut OpenOptions, _access: Access) {}
