//! The device's private key, behind one small interface: a file by default, a phone's own key store where there is one.

mod file;
mod passphrase_file;

use std::sync::PoisonError;

use evidence::{DeviceKey, PublicKey};

pub use file::FileKeys;

use crate::{Store, StoreError};

/// A device's key as it was read.
pub struct StoredKey {
    /// The key that signs this device's checkpoints.
    pub key: DeviceKey,
    /// The file could be read by others and was closed to them: tell the user, since the key may have been copied.
    pub was_exposed: bool,
}

/// How the private key is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeyProtection {
    /// There is no key yet.
    NoKey,
    /// A file that its owner alone can read.
    OwnerOnlyFile,
    /// Such a file, encrypted by a passphrase (age with scrypt).
    Passphrase,
    /// The phone's key store wraps it.
    Hardware,
}

/// Where private keys live. An implementation that keeps no passphrases ignores them.
pub trait KeyStore: Send + Sync {
    /// How the key is kept.
    ///
    /// # Errors
    /// [`StoreError::File`].
    fn protection(&self) -> Result<KeyProtection, StoreError>;
    /// The key in use; `None` before one is kept.
    ///
    /// # Errors
    /// [`StoreError::KeyLocked`] without the passphrase it needs, [`StoreError::WrongPassphrase`],
    /// [`StoreError::KeyExposed`], [`StoreError::KeyUnreadable`], [`StoreError::File`].
    fn load(&self, passphrase: Option<&str>) -> Result<Option<StoredKey>, StoreError>;
    /// Keeps the device's first key.
    ///
    /// # Errors
    /// [`StoreError::KeyExists`]; [`StoreError::DiskFull`], [`StoreError::File`].
    fn keep(&self, key: &DeviceKey, passphrase: Option<&str>) -> Result<(), StoreError>;
    /// Keeps the next key beside the one in use, so that it is durable before the old one signs for it.
    ///
    /// # Errors
    /// As [`KeyStore::keep`], without [`StoreError::KeyExists`]: a key staged before is replaced.
    fn stage(&self, next: &DeviceKey, passphrase: Option<&str>) -> Result<(), StoreError>;
    /// The staged key; `None` when there is none.
    ///
    /// # Errors
    /// As [`KeyStore::load`].
    fn staged(&self, passphrase: Option<&str>) -> Result<Option<StoredKey>, StoreError>;
    /// Puts the staged key in use. The old one's public half is kept; its private half is destroyed once the new one
    /// is durable. Without a staged key nothing happens.
    ///
    /// # Errors
    /// [`StoreError::DiskFull`], [`StoreError::File`].
    fn promote(&self) -> Result<(), StoreError>;
    /// Sets, changes or removes the passphrase of the key in use.
    ///
    /// # Errors
    /// As [`KeyStore::load`] for the old passphrase, as [`KeyStore::keep`] for writing.
    fn protect(&self, old: Option<&str>, new: Option<&str>) -> Result<(), StoreError>;
    /// Public halves of this device's keys, oldest first; the one in use is the last.
    ///
    /// # Errors
    /// [`StoreError::KeyUnreadable`], [`StoreError::File`].
    fn public_keys(&self) -> Result<Vec<PublicKey>, StoreError>;
}

impl Store {
    /// The device's key; `None` before one is kept.
    ///
    /// # Errors
    /// [`StoreError::KeyLocked`] until [`Store::unlock_device_key`]; those of [`KeyStore::load`].
    pub fn device_key(&self) -> Result<Option<StoredKey>, StoreError> {
        let unlocked = self.unlocked.lock().unwrap_or_else(PoisonError::into_inner).clone();
        match unlocked {
            Some(key) => Ok(Some(StoredKey { key, was_exposed: false })),
            None => self.keys.load(None),
        }
    }

    /// Reads the key with its passphrase and holds it in memory until the app ends or [`Store::lock_device_key`].
    ///
    /// # Errors
    /// [`StoreError::WrongPassphrase`]; those of [`KeyStore::load`].
    pub fn unlock_device_key(&self, passphrase: &str) -> Result<(), StoreError> {
        let stored = self.keys.load(Some(passphrase))?;
        let key = stored.as_ref().map(|stored| stored.key.public());
        *self.unlocked.lock().unwrap_or_else(PoisonError::into_inner) = stored.map(|stored| stored.key);
        key.map_or(Ok(()), |key| self.key_is(&key))?;
        self.check_newest()
    }

    /// Takes an unlocked key out of memory.
    pub fn lock_device_key(&self) {
        *self.unlocked.lock().unwrap_or_else(PoisonError::into_inner) = None;
    }

    /// How the device's key is kept.
    ///
    /// # Errors
    /// [`StoreError::File`].
    pub fn key_protection(&self) -> Result<KeyProtection, StoreError> {
        self.keys.protection()
    }

    /// Keeps the device's first key: readable by its owner alone (PKCS#8 in PEM), written as durably as a photo.
    ///
    /// # Errors
    /// [`StoreError::KeyExists`]; [`StoreError::DiskFull`], [`StoreError::File`].
    pub fn keep_device_key(&self, key: &DeviceKey) -> Result<(), StoreError> {
        self.keys.keep(key, None)?;
        self.key_is(&key.public())
    }

    /// Sets (`None` to `Some`), changes or removes the passphrase of the key in use.
    ///
    /// # Errors
    /// [`StoreError::WrongPassphrase`] or [`StoreError::KeyLocked`] for the old one; those of [`KeyStore::keep`].
    pub fn protect_device_key(&self, old: Option<&str>, new: Option<&str>) -> Result<(), StoreError> {
        self.lock_device_key();
        self.keys.protect(old, new)
    }

    /// First step of a rotation: the next key becomes durable. Then let the old one sign for it in a record, then
    /// [`Store::promote_staged_key`]. After a crash in between, [`Store::staged_device_key`] tells what was meant.
    ///
    /// # Errors
    /// Those of [`KeyStore::stage`].
    pub fn stage_device_key(&self, next: &DeviceKey, passphrase: Option<&str>) -> Result<(), StoreError> {
        self.keys.stage(next, passphrase)?;
        self.sign_for_next(next)
    }

    /// The key that a rotation staged and hasn't put in use yet.
    ///
    /// # Errors
    /// Those of [`KeyStore::load`].
    pub fn staged_device_key(&self, passphrase: Option<&str>) -> Result<Option<StoredKey>, StoreError> {
        self.keys.staged(passphrase)
    }

    /// Last step of a rotation; see [`KeyStore::promote`].
    ///
    /// # Errors
    /// Those of [`KeyStore::promote`].
    pub fn promote_staged_key(&self) -> Result<(), StoreError> {
        self.lock_device_key();
        let staged = self.keys.staged(None).is_ok_and(|staged| staged.is_none());
        self.keys.promote()?;
        if staged {
            return Ok(());
        }
        let (next, path) = (self.folder.next_known_keys(), self.folder.known_keys());
        if next.exists() {
            self.disk.rename(&next, &path).map_err(|error| StoreError::file("rename", &next, error))?;
        }
        Ok(())
    }

    /// Public halves of this device's keys, oldest first; the one in use is the last.
    ///
    /// # Errors
    /// Those of [`KeyStore::public_keys`].
    pub fn own_public_keys(&self) -> Result<Vec<PublicKey>, StoreError> {
        self.keys.public_keys()
    }
}
