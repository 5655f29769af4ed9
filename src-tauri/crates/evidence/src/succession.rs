//! Keys that follow one another: rotation, loss, and a second device. Each is a record.
//!
//! What the caller must write, and where (field names exactly so; the bodies here serialise to it):
//!
//! | Record | In which log | Body |
//! |---|---|---|
//! | [`CHANGED`] `key_changed` | the device's own, in every job it goes on with | [`KeyChanged`]: `device`, `old_key`, `new_key` (PEM), `signature` (base64) |
//! | [`LOST`] `key_lost` | the same | [`KeyLost`]: `device`, `lost_key`, `new_key` (PEM) |
//! | [`ADDED`] `device_added` | any log of the job, best the first device's | [`DeviceAdded`]: `device` (the new one), `signing_key`, `new_key` (PEM), `signature` |
//!
//! A checkpoint over `n` records is signed by the key that is valid there: the first key of the log, or the `new_key`
//! of the last `key_changed` or `key_lost` among the first `n` records. So: sign a checkpoint with the old key, write the
//! record, destroy the old key, sign everything after with the new one. In a job that starts after the change the record
//! may stand first; then whoever knows the old fingerprint still finds the way to the new key.
//!
//! A statement proves that whoever held the old key named the new one. A lost key has no statement: it is a break
//! that the verdict shows, and the new fingerprint must be handed over anew.

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD as BASE64;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{DeviceKey, Digest, EvidenceError, PublicKey, naming};

/// Kind of the record by which a device's old key names its new one.
pub const CHANGED: &str = "key_changed";
/// Kind of the record that says a key is lost and another takes its place.
pub const LOST: &str = "key_lost";
/// Kind of the record by which a key of the shop names the key of another device.
pub const ADDED: &str = "device_added";

/// The public body of a [`CHANGED`] record.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KeyChanged {
    /// The device whose key changes.
    pub device: String,
    /// The key until now, PEM.
    pub old_key: String,
    /// The key from now on, PEM.
    pub new_key: String,
    /// The old key's raw Ed25519 signature over [`Statement::text`], standard base64.
    pub signature: String,
}

/// The public body of a [`LOST`] record. Why it was lost is for the withheld values.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KeyLost {
    /// The device whose key is lost.
    pub device: String,
    /// The lost key, PEM.
    pub lost_key: String,
    /// The key from now on, PEM.
    pub new_key: String,
}

/// The public body of an [`ADDED`] record.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DeviceAdded {
    /// The device that joins.
    pub device: String,
    /// The key that vouches for it, PEM.
    pub signing_key: String,
    /// The joining device's key, PEM.
    pub new_key: String,
    /// The vouching key's raw Ed25519 signature over [`Statement::text`], standard base64.
    pub signature: String,
}

/// What one key says about another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Statement {
    /// The shop.
    pub shop: String,
    /// The device whose key the new one is.
    pub device: String,
    /// Whether the device joins (`device_added`) or goes on with a new key (`key_changed`).
    pub joins: bool,
    /// Fingerprint of the key that signs.
    pub signer: Digest,
    /// Fingerprint of the key that is named.
    pub named: Digest,
}

impl Statement {
    /// The signed bytes: six lines, each ended by a line feed.
    pub fn text(&self) -> String {
        let says = if self.joins {
            "this device belongs to the shop and signs with the new key"
        } else {
            "from now on this device signs with the new key"
        };
        format!(
            "Statement about signing keys, version 1\nShop: {}\nDevice: {}\nSays: {says}\nSigned by key: {}\n\
             New key: {}\n",
            self.shop, self.device, self.signer, self.named
        )
    }
}

/// Two keys that a record puts one after the other, checked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// The device whose key the new one is.
    pub device: String,
    /// The key before, or the one that vouches.
    pub from: PublicKey,
    /// The key that is named.
    pub to: PublicKey,
    /// The signed statement and its signature; none for a lost key.
    pub signed: Option<(Statement, [u8; 64])>,
}

/// The old key names the new one.
///
/// # Errors
/// [`EvidenceError::BadKey`] if the two are one, [`EvidenceError::WrongField`] for names.
pub fn change(
    shop: &str,
    device: &str,
    old: &DeviceKey,
    new: &PublicKey,
) -> Result<KeyChanged, EvidenceError> {
    let statement = statement(shop, device, false, &old.public(), new)?;
    let signature = BASE64.encode(old.sign_bytes(statement.text().as_bytes()));
    let (device, old_key, new_key) = (device.to_owned(), old.public_pem()?, new.pem()?);
    Ok(KeyChanged { device, old_key, new_key, signature })
}

/// A new key takes the place of a lost one; nobody vouches for it.
///
/// # Errors
/// As [`change`].
pub fn lose(shop: &str, device: &str, lost: &PublicKey, new: &PublicKey) -> Result<KeyLost, EvidenceError> {
    statement(shop, device, false, lost, new)?;
    Ok(KeyLost { device: device.to_owned(), lost_key: lost.pem()?, new_key: new.pem()? })
}

/// A key of the shop names the key of another device, which is called `device`.
///
/// # Errors
/// As [`change`].
pub fn add(shop: &str, device: &str, by: &DeviceKey, new: &PublicKey) -> Result<DeviceAdded, EvidenceError> {
    let statement = statement(shop, device, true, &by.public(), new)?;
    let signature = BASE64.encode(by.sign_bytes(statement.text().as_bytes()));
    let (device, signing_key, new_key) = (device.to_owned(), by.public_pem()?, new.pem()?);
    Ok(DeviceAdded { device, signing_key, new_key, signature })
}

impl KeyChanged {
    /// Checks keys and signature.
    ///
    /// # Errors
    /// [`EvidenceError::BadKey`], [`EvidenceError::BadSignature`].
    pub fn check(&self, shop: &str) -> Result<Link, EvidenceError> {
        signed(shop, &self.device, false, (&self.old_key, &self.new_key), &self.signature)
    }
}

impl KeyLost {
    /// Checks that both are keys.
    ///
    /// # Errors
    /// [`EvidenceError::BadKey`].
    pub fn check(&self, shop: &str) -> Result<Link, EvidenceError> {
        let (from, to) = (key(&self.lost_key)?, key(&self.new_key)?);
        statement(shop, &self.device, false, &from, &to)?;
        Ok(Link { device: self.device.clone(), from, to, signed: None })
    }
}

impl DeviceAdded {
    /// Checks keys and signature.
    ///
    /// # Errors
    /// [`EvidenceError::BadKey`], [`EvidenceError::BadSignature`].
    pub fn check(&self, shop: &str) -> Result<Link, EvidenceError> {
        signed(shop, &self.device, true, (&self.signing_key, &self.new_key), &self.signature)
    }
}

fn signed(
    shop: &str,
    device: &str,
    joins: bool,
    keys: (&str, &str),
    signature: &str,
) -> Result<Link, EvidenceError> {
    let (from, to) = (key(keys.0)?, key(keys.1)?);
    let statement = statement(shop, device, joins, &from, &to)?;
    let bytes = BASE64.decode(signature).ok().and_then(|bytes| bytes.try_into().ok());
    let signature: [u8; 64] = bytes.ok_or(EvidenceError::BadSignature)?;
    from.verify(statement.text().as_bytes(), &signature)?;
    Ok(Link { device: device.to_owned(), from, to, signed: Some((statement, signature)) })
}

fn statement(
    shop: &str,
    device: &str,
    joins: bool,
    from: &PublicKey,
    to: &PublicKey,
) -> Result<Statement, EvidenceError> {
    naming::identifier("shop", shop)?;
    naming::identifier("device", device)?;
    let (signer, named) = (from.fingerprint()?, to.fingerprint()?);
    if signer == named {
        return Err(EvidenceError::BadKey("the new key is the old one; make another".into()));
    }
    Ok(Statement { shop: shop.to_owned(), device: device.to_owned(), joins, signer, named })
}

/// A key in the one form of PEM.
fn key(pem: &str) -> Result<PublicKey, EvidenceError> {
    let key = PublicKey::from_pem(pem)?;
    if key.pem()? == pem { Ok(key) } else { Err(EvidenceError::BadKey("it is not in the usual form".into())) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_statement_holds_for_its_shop_device_and_keys_alone() {
        let (old, new, other) = ([1, 2, 3].map(|seed| DeviceKey::from_seed([seed; 32]))).into();
        let changed = change("shop", "phone", &old, &new.public()).unwrap();
        let link = changed.check("shop").unwrap();
        assert_eq!((link.from, link.to), (old.public(), new.public()));
        assert!(changed.check("other-shop").is_err());
        assert!(KeyChanged { device: "tablet".into(), ..changed.clone() }.check("shop").is_err());
        assert!(
            KeyChanged { new_key: other.public_pem().unwrap(), ..changed.clone() }.check("shop").is_err()
        );
        assert!(
            KeyChanged { old_key: other.public_pem().unwrap(), ..changed.clone() }.check("shop").is_err()
        );
        // The same words can't be passed off as another kind of statement.
        let KeyChanged { device, old_key, new_key, signature } = changed;
        let added = DeviceAdded { device, signing_key: old_key, new_key, signature };
        assert!(added.check("shop").is_err());
        assert!(add("shop", "tablet", &old, &new.public()).unwrap().check("shop").is_ok());
        assert!(change("shop", "phone", &old, &old.public()).is_err());
        assert!(lose("shop", "phone", &old.public(), &new.public()).unwrap().check("shop").is_ok());
    }
}
