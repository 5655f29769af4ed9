use age::secrecy::zeroize::Zeroizing;
use evidence::DeviceKey;

use crate::{StoreError, passphrase};

/// First line of an age file in its text form.
const ENCRYPTED: &str = "-----BEGIN AGE ENCRYPTED FILE-----";

/// The private key as it stands in a file: plain PKCS#8 PEM, or the same encrypted by age in its text form.
pub(super) struct KeyText(pub(super) Zeroizing<String>);

impl KeyText {
    pub(super) fn write(key: &DeviceKey, passphrase: Option<&str>) -> Result<Self, StoreError> {
        let pem = key.private_pem()?;
        match passphrase {
            None => Ok(Self(pem)),
            Some(words) => Ok(Self(Zeroizing::new(passphrase::seal_text(pem.as_bytes(), words)?))),
        }
    }

    pub(super) fn encrypted(&self) -> bool {
        self.0.starts_with(ENCRYPTED)
    }

    /// `Ok(None)` when it is no key of either form.
    pub(super) fn read(&self, passphrase: Option<&str>) -> Result<Option<DeviceKey>, StoreError> {
        if !self.encrypted() {
            return Ok(DeviceKey::from_private_pem(&self.0).ok());
        }
        let pem = Zeroizing::new(passphrase::open_text(&self.0, passphrase.ok_or(StoreError::KeyLocked)?)?);
        Ok(std::str::from_utf8(&pem).ok().and_then(|pem| DeviceKey::from_private_pem(pem).ok()))
    }
}
