use std::fs::{self, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use age::secrecy::zeroize::Zeroizing;
use evidence::{DeviceKey, PublicKey};

use crate::disk::{Keeping, keep};
use crate::keys::passphrase_file::KeyText;
use crate::{Access, Disk, KeyProtection, KeyStore, StoreError, StoredKey};

/// Keys as files in one folder: `device.pem` in use, `device.pub.pem` its public half, `next.pem` staged,
/// `earlier/NNNN.pub.pem` the public halves of those before.
pub struct FileKeys {
    folder: PathBuf,
    disk: Arc<dyn Disk>,
    next_temporary: AtomicU64,
}

impl FileKeys {
    /// Keys in an existing folder, written through the disk given.
    pub fn new(folder: &Path, disk: Arc<dyn Disk>) -> Self {
        Self { folder: folder.to_path_buf(), disk, next_temporary: AtomicU64::new(0) }
    }

    fn current(&self) -> PathBuf {
        self.folder.join("device.pem")
    }

    fn public(&self) -> PathBuf {
        self.folder.join("device.pub.pem")
    }

    fn next(&self) -> PathBuf {
        self.folder.join("next.pem")
    }

    fn earlier(&self) -> PathBuf {
        self.folder.join("earlier")
    }

    /// The public half is derived: it need not be durable, only whole.
    fn write_public(&self, key: &DeviceKey) -> Result<(), StoreError> {
        self.write_named(&self.public(), &key.public_pem()?, &[])
    }

    fn write(&self, target: &Path, text: &str) -> Result<(), StoreError> {
        let inside = target.parent().unwrap_or(&self.folder);
        let folders = [inside, self.folder.as_path()];
        let folders = if inside == self.folder { &folders[..1] } else { &folders[..] };
        self.write_named(target, text, folders)
    }

    fn write_named(&self, target: &Path, text: &str, folders: &[&Path]) -> Result<(), StoreError> {
        let number = self.next_temporary.fetch_add(1, Ordering::Relaxed);
        let temporary = self.folder.join(format!("{number}.part"));
        // A name left over from a crash would be in the way of a file that must be new.
        let _ = fs::remove_file(&temporary);
        let keeping = Keeping { temporary: &temporary, target, access: Access::OwnerOnly, folders };
        keep(self.disk.as_ref(), &keeping, text.as_bytes())
    }

    fn read(&self, path: &Path, passphrase: Option<&str>) -> Result<Option<StoredKey>, StoreError> {
        let Some(text) = text_of(path)? else { return Ok(None) };
        let was_exposed = close_to_others(path)?;
        let key = KeyText(text).read(passphrase)?;
        let unreadable = || StoreError::KeyUnreadable { path: path.to_path_buf() };
        Ok(Some(StoredKey { key: key.ok_or_else(unreadable)?, was_exposed }))
    }

    /// The public halves kept of earlier keys, oldest first.
    fn earlier_keys(&self) -> Result<Vec<PublicKey>, StoreError> {
        let folder = self.earlier();
        let Ok(entries) = fs::read_dir(&folder) else { return Ok(Vec::new()) };
        let mut paths: Vec<PathBuf> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
        paths.sort();
        paths.iter().filter_map(|path| public_key(path).transpose()).collect()
    }

    fn keep_earlier(&self, key: &PublicKey) -> Result<(), StoreError> {
        let kept = self.earlier_keys()?;
        if kept.contains(key) {
            return Ok(());
        }
        let folder = self.earlier();
        self.disk.create_folder(&folder).map_err(|error| StoreError::file("create", &folder, error))?;
        let number = kept.len().saturating_add(1);
        self.write(&folder.join(format!("{number:04}.pub.pem")), &key.pem()?)
    }
}

impl KeyStore for FileKeys {
    fn protection(&self) -> Result<KeyProtection, StoreError> {
        Ok(match text_of(&self.current())?.map(KeyText) {
            None => KeyProtection::NoKey,
            Some(text) if text.encrypted() => KeyProtection::Passphrase,
            Some(_) => KeyProtection::OwnerOnlyFile,
        })
    }

    fn load(&self, passphrase: Option<&str>) -> Result<Option<StoredKey>, StoreError> {
        let Some(stored) = self.read(&self.current(), passphrase)? else { return Ok(None) };
        // Missing from a folder of an earlier version, or out of date after a crash.
        if public_key(&self.public())? != Some(stored.key.public()) {
            self.write_public(&stored.key)?;
        }
        Ok(Some(stored))
    }

    fn keep(&self, key: &DeviceKey, passphrase: Option<&str>) -> Result<(), StoreError> {
        let path = self.current();
        if path.exists() {
            return Err(StoreError::KeyExists { path });
        }
        let text = KeyText::write(key, passphrase)?;
        self.write_public(key)?;
        self.write(&path, &text.0)
    }

    fn stage(&self, next: &DeviceKey, passphrase: Option<&str>) -> Result<(), StoreError> {
        self.write(&self.next(), &KeyText::write(next, passphrase)?.0)
    }

    fn staged(&self, passphrase: Option<&str>) -> Result<Option<StoredKey>, StoreError> {
        self.read(&self.next(), passphrase)
    }

    fn promote(&self) -> Result<(), StoreError> {
        let (next, path) = (self.next(), self.current());
        if !next.exists() {
            return Ok(());
        }
        if let Some(public) = public_key(&self.public())? {
            self.keep_earlier(&public)?;
        }
        // Held open over the rename: its blocks are overwritten once nothing points to them any more.
        let old = OpenOptions::new().write(true).open(&path).ok();
        self.disk.rename(&next, &path).map_err(|error| StoreError::file("rename", &next, error))?;
        self.disk.sync_folder(&self.folder).map_err(|error| StoreError::file("sync", &self.folder, error))?;
        if let Some(mut old) = old {
            // Best effort: a flash drive may keep the old blocks whatever is written.
            let length = old.metadata().map_or(0, |data| usize::try_from(data.len()).unwrap_or(0));
            let _ = old.write_all(&vec![0; length]).and_then(|()| old.sync_all());
        }
        match self.read(&path, None) {
            Ok(Some(stored)) => self.write_public(&stored.key),
            // Encrypted: its public half is written when it is unlocked.
            _ => Ok(()),
        }
    }

    fn protect(&self, old: Option<&str>, new: Option<&str>) -> Result<(), StoreError> {
        let Some(stored) = self.load(old)? else { return Ok(()) };
        self.write(&self.current(), &KeyText::write(&stored.key, new)?.0)
    }

    fn public_keys(&self) -> Result<Vec<PublicKey>, StoreError> {
        let current = match self.load(None) {
            Ok(stored) => stored.map(|stored| stored.key.public()),
            Err(StoreError::KeyLocked) => public_key(&self.public())?,
            Err(error) => return Err(error),
        };
        let mut keys = self.earlier_keys()?;
        keys.retain(|key| Some(*key) != current);
        keys.extend(current);
        Ok(keys)
    }
}

fn text_of(path: &Path) -> Result<Option<Zeroizing<String>>, StoreError> {
    match fs::read_to_string(path) {
        Ok(text) => Ok(Some(Zeroizing::new(text))),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) if error.kind() == ErrorKind::InvalidData => {
            Err(StoreError::KeyUnreadable { path: path.to_path_buf() })
        }
        Err(error) => Err(StoreError::file("read", path, error)),
    }
}

fn public_key(path: &Path) -> Result<Option<PublicKey>, StoreError> {
    let Some(text) = text_of(path)? else { return Ok(None) };
    Ok(PublicKey::from_pem(&text).ok())
}

/// Returns whether others could read the file until now.
#[cfg(unix)]
fn close_to_others(path: &Path) -> Result<bool, StoreError> {
    use std::os::unix::fs::PermissionsExt;
    let data = fs::metadata(path).map_err(|error| StoreError::file("read", path, error))?;
    if data.permissions().mode() & 0o077 == 0 {
        return Ok(false);
    }
    let closed = fs::set_permissions(path, fs::Permissions::from_mode(0o600));
    closed.map_err(|_| StoreError::KeyExposed { path: path.to_path_buf() })?;
    Ok(true)
}

#[cfg(not(unix))]
fn close_to_others(_path: &Path) -> Result<bool, StoreError> {
    Ok(false)
}
