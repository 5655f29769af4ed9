use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use evidence::DeviceKey;

use crate::disk::{Keeping, keep};
use crate::{Access, Store, StoreError};

/// The device's key, as read from its file.
pub struct StoredKey {
    /// The key that signs this device's checkpoints.
    pub key: DeviceKey,
    /// The file could be read by others and was closed to them: tell the user, since the key may have been copied.
    pub was_exposed: bool,
}

impl Store {
    /// The device's key; `None` before one is kept.
    ///
    /// # Errors
    /// [`StoreError::KeyExposed`] when others can read the file and this user can't change that;
    /// [`StoreError::KeyUnreadable`]; [`StoreError::File`].
    pub fn device_key(&self) -> Result<Option<StoredKey>, StoreError> {
        let path = self.key_path();
        let text = match fs::read_to_string(&path) {
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
            Err(error) if error.kind() == ErrorKind::InvalidData => {
                return Err(StoreError::KeyUnreadable { path });
            }
            read => read.map_err(|error| StoreError::file("read", &path, error))?,
        };
        let was_exposed = close_to_others(&path)?;
        let key = DeviceKey::from_private_pem(&text).map_err(|_| StoreError::KeyUnreadable { path })?;
        Ok(Some(StoredKey { key, was_exposed }))
    }

    /// Keeps the device's key for life: readable by its owner alone (PKCS#8 in PEM), written as durably as a photo.
    ///
    /// # Errors
    /// [`StoreError::KeyExists`]; [`StoreError::DiskFull`], [`StoreError::File`].
    pub fn keep_device_key(&self, key: &DeviceKey) -> Result<(), StoreError> {
        let path = self.key_path();
        if path.exists() {
            return Err(StoreError::KeyExists { path });
        }
        let pem = key.private_pem()?;
        let (temporary, folder) = (self.folder.temporary(), self.folder.keys());
        let folders = [folder.as_path()];
        let keeping =
            Keeping { temporary: &temporary, target: &path, access: Access::OwnerOnly, folders: &folders };
        keep(self.disk.as_ref(), &keeping, pem.as_bytes())
    }

    fn key_path(&self) -> PathBuf {
        self.folder.keys().join("device.pem")
    }
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
