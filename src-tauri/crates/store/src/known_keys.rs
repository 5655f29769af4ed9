//! Which keys may vouch for records: this device's own, and those on a list that it has signed.
//!
//! The list lies beside the key (`keys/known.note`, a C2SP signed note). A row in the database alone makes no key known:
//! whoever can write to the data folder could put one there and sign with it.

use std::fs;
use std::path::Path;
use std::sync::PoisonError;

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD as BASE64;
use evidence::{DeviceKey, LogId, PublicKey};

use crate::disk::{Keeping, keep};
use crate::{Access, Notice, Store, StoreError};

/// Name of the note's key, and its first line.
const NAME: &str = "testimeter-known-keys";

/// The keys that may vouch, as they are known while the store is open.
#[derive(Default)]
pub(crate) struct Known {
    /// By device, in the order they were learnt.
    list: Vec<(String, PublicKey)>,
    /// This device's key in use.
    in_use: Option<PublicKey>,
}

impl Store {
    /// Remembers a public key of a device, this one or another; the same one twice is fine. The list is signed as soon as
    /// this device's key is at hand.
    ///
    /// # Errors
    /// [`StoreError::Evidence`] when it isn't a public key in PEM; those of the database and the files: keeping it again
    /// makes up for them.
    pub fn keep_public_key(&self, device: &str, pem: &str) -> Result<(), StoreError> {
        let key = PublicKey::from_pem(pem)?;
        let insert =
            "INSERT INTO device_keys (device, fingerprint, pem) VALUES (?, ?, ?) ON CONFLICT DO NOTHING";
        self.database().prepare_cached(insert)?.execute((device, key.fingerprint()?.0, key.pem()?))?;
        {
            let mut known = self.known();
            let entry = (device.to_owned(), key);
            if !known.list.contains(&entry) {
                known.list.push(entry);
            }
        }
        self.sign_known_keys()
    }

    /// Public keys of a device in the order this one learnt of them.
    ///
    /// # Errors
    /// None today; a list that lies elsewhere may have some.
    pub fn public_keys_of(&self, device: &str) -> Result<Vec<PublicKey>, StoreError> {
        let known = self.known();
        Ok(known.list.iter().filter(|(of, _)| of == device).map(|(_, key)| *key).collect())
    }

    /// Every device whose key is known, with its keys, in the order they were learnt.
    ///
    /// # Errors
    /// As [`Store::public_keys_of`].
    pub fn known_public_keys(&self) -> Result<Vec<(String, PublicKey)>, StoreError> {
        Ok(self.known().list.clone())
    }

    /// The keys that may vouch for a log: those known of its device, and this device's key in use. What a key signs names
    /// the log, so that it speaks only for logs it was used for.
    pub(crate) fn keys_for(&self, log: &LogId) -> Vec<PublicKey> {
        let known = self.known();
        let of_device = known.list.iter().filter(|(device, _)| *device == log.device).map(|(_, key)| *key);
        of_device.chain(known.in_use).collect()
    }

    /// Reads the list at the start. The database's word is taken where it was written before there was a list (`older`) or
    /// comes from a backup that its passphrase protects (`restored`).
    pub(crate) fn know_keys(&self, older: bool, restored: bool) -> Result<(), StoreError> {
        let in_use = self.keys.public_keys()?.pop();
        let listed = in_use.and_then(|key| self.listed(&key));
        // Without a key of its own a device has nothing to sign the list with.
        let believe = older || restored || in_use.is_none();
        let rows = self.rows_of_keys()?;
        let list = match listed {
            Some(list) => list,
            None if believe => {
                let others = rows.iter().filter(|(_, key)| Some(*key) != in_use).count();
                self.tell((others > 0 && !restored).then_some(Notice::KeysBelieved { keys: others }));
                rows
            }
            None => {
                let others = rows.iter().any(|(_, key)| Some(*key) != in_use);
                self.tell(others.then_some(Notice::KeyListLost));
                rows.into_iter().filter(|(_, key)| Some(*key) == in_use).collect()
            }
        };
        *self.known() = Known { list, in_use };
        self.sign_known_keys()
    }

    /// The key was unlocked, made or changed: what its public file said may have been another one's.
    pub(crate) fn key_is(&self, key: &PublicKey) -> Result<(), StoreError> {
        let (before, listed) = (self.known().in_use, self.listed(key));
        let on_list = |before: &PublicKey| listed.iter().flatten().any(|(_, known)| known == before);
        // After a change of keys the one before is on the list; another one's isn't.
        let ours = before.is_none_or(|before| before == *key || on_list(&before));
        self.tell((!ours).then_some(Notice::PublicKeyReplaced));
        let mut known = self.known();
        let since = std::mem::take(&mut known.list);
        known.list = listed.unwrap_or_default();
        for entry in since.into_iter().filter(|(_, learnt)| ours || learnt == key) {
            if !known.list.contains(&entry) {
                known.list.push(entry);
            }
        }
        known.in_use = Some(*key);
        drop(known);
        self.sign_known_keys()
    }

    /// The list as the next key will find it, so that a change of keys leaves no moment without one.
    pub(crate) fn sign_for_next(&self, next: &DeviceKey) -> Result<(), StoreError> {
        let text = self.text();
        self.write_note(&self.folder.next_known_keys(), next, &text)
    }

    /// Signs the list where this device's key is at hand and the file says something else.
    pub(crate) fn sign_known_keys(&self) -> Result<(), StoreError> {
        let Ok(Some(stored)) = self.device_key() else { return Ok(()) };
        let text = self.text();
        let path = self.folder.known_keys();
        let signed = read_note(&path, &stored.key.public()).is_some_and(|kept| kept == text);
        if signed { Ok(()) } else { self.write_note(&path, &stored.key, &text) }
    }

    /// This device's keys: the one in use, and all that are known, of which the earlier ones are some.
    pub(crate) fn own_keys(&self) -> Vec<PublicKey> {
        let known = self.known();
        known.in_use.into_iter().chain(known.list.iter().map(|(_, key)| *key)).collect()
    }

    /// Whether the key itself, and not only what its public file says, can be read.
    pub(crate) fn key_is_at_hand(&self) -> bool {
        matches!(self.device_key(), Ok(Some(_)))
    }

    fn write_note(&self, path: &Path, key: &DeviceKey, text: &str) -> Result<(), StoreError> {
        let note = key.public().note(NAME, text, &key.sign_bytes(text.as_bytes()));
        let (temporary, folder) = (self.folder.temporary(), self.folder.keys());
        let folders = [folder.as_path()];
        let keeping =
            Keeping { temporary: &temporary, target: path, access: Access::OwnerOnly, folders: &folders };
        keep(self.disk.as_ref(), &keeping, note.as_bytes())
    }

    /// The list that a key signed, from the file or from the one that a change of keys left beside it.
    fn listed(&self, key: &PublicKey) -> Option<Vec<(String, PublicKey)>> {
        let notes = [self.folder.known_keys(), self.folder.next_known_keys()];
        notes.iter().find_map(|path| parse(&read_note(path, key)?))
    }

    fn text(&self) -> String {
        let line = |(device, key): &(String, PublicKey)| format!("{device} {}\n", BASE64.encode(key.bytes()));
        let lines: String = self.known().list.iter().map(line).collect();
        format!("{NAME}\n{lines}")
    }

    fn rows_of_keys(&self) -> Result<Vec<(String, PublicKey)>, StoreError> {
        let connection = self.database();
        let mut statement =
            connection.prepare_cached("SELECT device, pem FROM device_keys ORDER BY learnt")?;
        let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get::<_, String>(1)?)))?;
        let read = |row: rusqlite::Result<(String, String)>| {
            let (device, pem) = row?;
            // A damaged key isn't one.
            Ok(PublicKey::from_pem(&pem).ok().map(|key| (device, key)))
        };
        Ok(rows.map(read).collect::<Result<Vec<_>, StoreError>>()?.into_iter().flatten().collect())
    }

    fn known(&self) -> std::sync::MutexGuard<'_, Known> {
        self.known.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The text of a note that a key signed; `None` for every other file.
fn read_note(path: &Path, key: &PublicKey) -> Option<String> {
    let note = fs::read_to_string(path).ok()?;
    let (text, signature) = note.split_once("\n\n")?;
    let text = format!("{text}\n");
    let line = signature.strip_prefix(&format!("\u{2014} {NAME} "))?.strip_suffix('\n')?;
    let signed = BASE64.decode(line).ok()?;
    // Four bytes of key id, then the signature.
    let signature: [u8; 64] = signed.get(4..)?.try_into().ok()?;
    key.verify(text.as_bytes(), &signature).ok()?;
    (key.note(NAME, &text, &signature) == note).then_some(text)
}

fn parse(text: &str) -> Option<Vec<(String, PublicKey)>> {
    let mut lines = text.lines();
    if lines.next() != Some(NAME) {
        return None;
    }
    let entry = |line: &str| {
        let (device, key) = line.split_once(' ')?;
        let bytes: [u8; 32] = BASE64.decode(key).ok()?.try_into().ok()?;
        Some((device.to_owned(), PublicKey::from_bytes(&bytes).ok()?))
    };
    lines.map(entry).collect()
}
