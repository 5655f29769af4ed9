//! The device's keys: changed, lost, shared with a second device. Each step is a record in every job that goes on.
//!
//! The statement is made once, when the key changes; a job's log takes it up before its next record. So a change is
//! one short step however many jobs there are, and a job that nobody touches again keeps the key it was signed with.

use crate::view::{DeviceView, ShopView};
use crate::{ApiError, Workshop, picture, settings, typed};
use evidence::succession::{self, DeviceAdded, KeyChanged, KeyLost};
use evidence::{DeviceKey, Digest, LogId, PublicKey, Record, fingerprint_words};
use job::Event;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use store::{KeyProtection, StoreError};

const SUCCESSIONS: &str = "key_successions";

/// One step from a key to another, in the order in which they were made.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(tag = "kind", content = "body", rename_all = "snake_case")]
enum Succession {
    KeyChanged(KeyChanged),
    KeyLost(KeyLost),
    DeviceAdded(DeviceAdded),
}

impl Workshop {
    /// Makes a new key; the old one signs for it and is destroyed.
    ///
    /// # Errors
    /// A locked key; a folder that can't be written to. The old key stays in use then.
    pub fn key_change(&self, passphrase: &str) -> Result<ShopView, ApiError> {
        let protection = typed::new_passphrase(passphrase)?;
        let _turn = self.store.turn();
        let shop = self.shop()?;
        let (old, new) = (self.key()?, new_key()?);
        let step = succession::change(&shop.shop_id, &shop.device_id, &old, &new.public())?;
        self.store.stage_device_key(&new, protection)?;
        self.remember(Succession::KeyChanged(step))?;
        self.take_into_use(&shop.device_id, &new.public())?;
        self.unlock(passphrase)?;
        self.shop_view()
    }

    /// Goes on with a new key because the old one is gone: a break that every verdict shows.
    ///
    /// # Errors
    /// The key is not lost; a folder that can't be written to.
    pub fn key_lost(&self, passphrase: &str) -> Result<ShopView, ApiError> {
        let protection = typed::new_passphrase(passphrase)?;
        let _turn = self.store.turn();
        let shop = self.shop()?;
        match self.store.device_key() {
            Ok(Some(_)) | Err(StoreError::KeyLocked) => return Err(ApiError::refused("key_not_lost")),
            _ => {}
        }
        let new = new_key()?;
        self.store.stage_device_key(&new, protection)?;
        if let Some(lost) = self.store.public_keys_of(&shop.device_id)?.pop() {
            let step = succession::lose(&shop.shop_id, &shop.device_id, &lost, &new.public())?;
            self.remember(Succession::KeyLost(step))?;
        }
        self.take_into_use(&shop.device_id, &new.public())?;
        self.unlock(passphrase)?;
        self.shop_view()
    }

    /// This device's key signs for another device of the shop, whose id and public key (PEM) are given.
    ///
    /// # Errors
    /// Text that is no public key or no id of a device; a locked key.
    pub fn device_add(&self, device: &str, public_key: &str) -> Result<ShopView, ApiError> {
        let shop = self.shop()?;
        let device = typed::required("device", device)?;
        let key = PublicKey::from_pem(&format!("{}\n", typed::required("public_key", public_key)?))?;
        let step = succession::add(&shop.shop_id, &device, &self.key()?, &key)?;
        self.store.keep_public_key(&device, &key.pem()?)?;
        // Its records are vouched for from now on.
        self.folds.drop_all();
        self.remember(Succession::DeviceAdded(step))?;
        self.shop_view()
    }

    /// Opens a key that a passphrase protects, until the app ends.
    ///
    /// # Errors
    /// A wrong passphrase.
    pub fn key_unlock(&self, passphrase: &str) -> Result<ShopView, ApiError> {
        self.store.unlock_device_key(passphrase)?;
        self.notice_findings();
        self.folds.drop_all();
        self.shop_view()
    }

    /// Sets, changes or (with an empty new one) removes the passphrase of the key.
    ///
    /// # Errors
    /// A wrong old passphrase.
    pub fn key_protect(&self, old: &str, new: &str) -> Result<ShopView, ApiError> {
        let new_protection = typed::new_passphrase(new)?;
        self.store.protect_device_key(Some(old).filter(|old| !old.is_empty()), new_protection)?;
        self.unlock(new)?;
        self.shop_view()
    }

    /// This device's key.
    pub(crate) fn key(&self) -> Result<DeviceKey, ApiError> {
        match self.store.device_key()? {
            Some(stored) => Ok(stored.key),
            None if self.store.setting(super::shop::SHOP)?.is_some() => Err(ApiError::refused("key_is_lost")),
            None => Err(ApiError::NotSetUp),
        }
    }

    /// This device's public key, also while the private one is locked or lost.
    pub(crate) fn public_key(&self, device: &str) -> Result<Option<PublicKey>, ApiError> {
        match self.store.device_key() {
            Ok(Some(stored)) => Ok(Some(stored.key.public())),
            _ => Ok(self.store.public_keys_of(device)?.pop()),
        }
    }

    /// The staged key takes the old one's place; its statement is on disk already.
    fn take_into_use(&self, device: &str, new: &PublicKey) -> Result<(), ApiError> {
        self.store.promote_staged_key()?;
        Ok(self.store.keep_public_key(device, &new.pem()?)?)
    }

    /// Ends a change of keys that a crash cut off between its statement and the new key's taking over: the logs would
    /// name the new key and be signed by the old one.
    pub(crate) fn finish_key_change(&self) -> Result<(), ApiError> {
        let Ok(shop) = self.shop() else { return Ok(()) };
        let staged = !matches!(self.store.staged_device_key(None), Ok(None));
        let steps = self.successions()?;
        let named = steps.iter().rev().find_map(|step| match step {
            Succession::KeyChanged(step) if step.device == shop.device_id => Some(&step.new_key),
            Succession::KeyLost(step) if step.device == shop.device_id => Some(&step.new_key),
            _ => None,
        });
        let Some(new) = named.filter(|_| staged).map(|pem| PublicKey::from_pem(pem)).transpose()? else {
            return Ok(());
        };
        let in_use = self.store.own_public_keys().ok().and_then(|keys| keys.last().copied());
        if in_use == Some(new) { Ok(()) } else { self.take_into_use(&shop.device_id, &new) }
    }

    /// Notes the public half of the key in use, so that it is known should the private one be lost.
    pub(crate) fn know_own_key(&self) -> Result<(), ApiError> {
        let Ok(shop) = self.shop() else { return Ok(()) };
        match self.store.device_key() {
            Ok(Some(stored)) => Ok(self.store.keep_public_key(&shop.device_id, &stored.key.public_pem()?)?),
            _ => Ok(()),
        }
    }

    /// Fingerprints that count as known on this device: its own, and those of the shop's devices it took up.
    pub(crate) fn own_fingerprints(&self) -> Result<Vec<Digest>, ApiError> {
        let known = self.store.known_public_keys()?.into_iter().map(|(_, key)| key);
        let own = self.store.device_key().ok().flatten().map(|stored| stored.key.public());
        Ok(known.chain(own).map(|key| key.fingerprint()).collect::<Result<_, _>>()?)
    }

    pub(crate) fn make_key(&self, device: &str) -> Result<(), ApiError> {
        if self.store.key_protection()? == KeyProtection::NoKey
            && self.store.public_keys_of(device)?.is_empty()
        {
            let key = new_key()?;
            self.store.keep_device_key(&key)?;
            self.store.keep_public_key(device, &key.public_pem()?)?;
        }
        Ok(())
    }

    /// How a log's keys followed one another, as far as its records don't say it yet.
    pub(crate) fn missing_successions(&self, log: &LogId) -> Result<Vec<Event>, ApiError> {
        let steps = self.successions()?;
        if steps.is_empty() {
            return Ok(Vec::new());
        }
        let records = self.parsed(log)?;
        let mut valid = self.key_of_log(log, &records)?;
        let others: BTreeSet<String> = self.store.other_heads(log)?.into_keys().collect();
        let mut missing = Vec::new();
        for step in steps {
            match step {
                Succession::KeyChanged(step)
                    if step.device == log.device && follows(valid, &step.old_key) =>
                {
                    valid = fingerprint(&step.new_key);
                    missing.push(Event::KeyChanged(step));
                }
                Succession::KeyLost(step) if step.device == log.device && follows(valid, &step.lost_key) => {
                    valid = fingerprint(&step.new_key);
                    missing.push(Event::KeyLost(step));
                }
                Succession::DeviceAdded(step) if others.contains(&step.device) && !names(&records, &step) => {
                    missing.push(Event::DeviceAdded(step));
                }
                _ => {}
            }
        }
        Ok(missing)
    }

    /// The public key that a device's log is signed with now; the newest known one if it has no checkpoint yet.
    pub(crate) fn public_key_of_log(&self, log: &LogId) -> Result<PublicKey, ApiError> {
        let records = self.parsed(log)?;
        let valid = self.key_of_log(log, &records)?;
        let mut known = self.store.public_keys_of(&log.device)?;
        if log.device == self.shop()?.device_id {
            known.extend(self.public_key(&log.device)?);
        }
        let unknown = || ApiError::Unknown { what: "device", value: log.device.clone() };
        let wanted = known.iter().rev().find(|key| key.fingerprint().ok() == valid && valid.is_some());
        wanted.or(known.last()).copied().ok_or_else(unknown)
    }

    /// Fingerprint of the key that is valid after these records; nothing where neither records nor checkpoints tell.
    fn key_of_log(&self, log: &LogId, records: &[Record]) -> Result<Option<Digest>, ApiError> {
        let named = records
            .iter()
            .rev()
            .find(|record| matches!(record.kind.as_str(), succession::CHANGED | succession::LOST));
        if let Some(record) = named {
            return Ok(record.body.get("new_key").and_then(|pem| pem.as_str()).and_then(fingerprint));
        }
        let opening = records.first().filter(|record| record.kind == "job_opened");
        if let Some(opening) = opening {
            let written = opening.body.get("fingerprint").and_then(|hex| hex.as_str());
            return Ok(written.and_then(|hex| hex.parse().ok()));
        }
        let first = self.store.checkpoints(&log.job)?.into_iter().find(|signed| signed.device == log.device);
        let known = self.store.public_keys_of(&log.device)?;
        let signer = first
            .and_then(|first| known.into_iter().find(|key| key.verify_checkpoint(&first.signed).is_ok()));
        Ok(signer.and_then(|key| key.fingerprint().ok()))
    }

    /// The records of one device's log.
    fn parsed(&self, log: &LogId) -> Result<Vec<Record>, ApiError> {
        let stored = self.store.job_records(&log.job)?;
        let own = stored.iter().filter(|stored| stored.device == log.device);
        Ok(own.map(|stored| Record::parse(&stored.bytes)).collect::<Result<_, _>>()?)
    }

    fn successions(&self) -> Result<Vec<Succession>, ApiError> {
        let kept = self.store.setting(SUCCESSIONS)?.unwrap_or_else(|| serde_json::json!([]));
        settings::read(SUCCESSIONS, kept)
    }

    fn remember(&self, step: Succession) -> Result<(), ApiError> {
        let mut steps = self.successions()?;
        steps.push(step);
        Ok(self.store.set_setting(SUCCESSIONS, &settings::written(SUCCESSIONS, &steps)?)?)
    }

    fn unlock(&self, passphrase: &str) -> Result<(), ApiError> {
        if passphrase.is_empty() { Ok(()) } else { Ok(self.store.unlock_device_key(passphrase)?) }
    }

    /// The key as the customer may note it, and how it is kept.
    pub(crate) fn device_view(&self, device: &str) -> Result<DeviceView, ApiError> {
        let key = self.public_key(device)?;
        let fingerprint = key.as_ref().map(PublicKey::fingerprint).transpose()?;
        let shown = fingerprint.map(|digest| digest.to_string()).unwrap_or_default();
        let state = match self.store.device_key() {
            Ok(Some(_)) => "ready",
            Err(StoreError::KeyLocked) => "locked",
            _ => "lost",
        };
        Ok(DeviceView {
            device: device.to_owned(),
            fingerprint_words: fingerprint.as_ref().map(fingerprint_words).unwrap_or_default(),
            fingerprint_qr: picture::qr(&shown),
            fingerprint: shown,
            public_key: key.map(|key| key.pem()).transpose()?.unwrap_or_default(),
            protection: protection(self.store.key_protection()?).to_owned(),
            state: state.to_owned(),
            passphrase_least: u32::try_from(typed::PASSPHRASE).unwrap_or(u32::MAX),
            earlier_keys: u32::try_from(self.store.public_keys_of(device)?.len().saturating_sub(1))
                .unwrap_or(u32::MAX),
        })
    }
}

const fn protection(protection: KeyProtection) -> &'static str {
    match protection {
        KeyProtection::NoKey => "no_key",
        KeyProtection::OwnerOnlyFile => "owner_only_file",
        KeyProtection::Passphrase => "passphrase",
        KeyProtection::Hardware => "hardware",
    }
}

fn follows(valid: Option<Digest>, old: &str) -> bool {
    valid.is_some() && valid == fingerprint(old)
}

fn names(records: &[Record], step: &DeviceAdded) -> bool {
    let added = records.iter().filter(|record| record.kind == succession::ADDED);
    added
        .into_iter()
        .any(|record| record.body.get("new_key").and_then(|pem| pem.as_str()) == Some(&step.new_key))
}

fn fingerprint(pem: &str) -> Option<Digest> {
    PublicKey::from_pem(pem).ok()?.fingerprint().ok()
}

/// A key from the system's randomness; without it none may be made.
pub(crate) fn new_key() -> Result<DeviceKey, ApiError> {
    let mut failed = false;
    let key = DeviceKey::generate(&mut |bytes| failed |= getrandom::fill(bytes).is_err());
    if failed { Err(ApiError::NoRandomness) } else { Ok(key) }
}
