//! The device's key: for its owner alone, by passphrase, replaced without a gap.

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::sync::Arc;

use evidence::DeviceKey;
use store::{KeyProtection, OpenOptions, Store, StoreError};

use crate::faulty_disk::{Fault, FaultyDisk};

fn open(folder: &Path) -> Store {
    Store::open(folder, &OpenOptions::default()).unwrap()
}

fn key(seed: u8) -> DeviceKey {
    DeviceKey::from_seed([seed; 32])
}

#[test]
fn a_passphrase_is_set_changed_and_taken_off() {
    let folder = tempfile::tempdir().unwrap();
    let store = open(folder.path());
    assert_eq!(store.key_protection().unwrap(), KeyProtection::NoKey);
    store.keep_device_key(&key(1)).unwrap();
    assert_eq!(store.key_protection().unwrap(), KeyProtection::OwnerOnlyFile);
    store.protect_device_key(None, Some("first words")).unwrap();
    assert_eq!(store.key_protection().unwrap(), KeyProtection::Passphrase);
    let text = fs::read_to_string(folder.path().join("keys/device.pem")).unwrap();
    assert!(text.starts_with("-----BEGIN AGE ENCRYPTED FILE-----"), "{text}");
    assert!(matches!(store.device_key(), Err(StoreError::KeyLocked)));
    assert_eq!(store.own_public_keys().unwrap(), [key(1).public()], "the public half needs no passphrase");
    assert!(matches!(store.unlock_device_key("other words"), Err(StoreError::WrongPassphrase)));
    store.unlock_device_key("first words").unwrap();
    assert_eq!(store.device_key().unwrap().unwrap().key.public(), key(1).public());
    assert!(matches!(store.protect_device_key(Some("no"), Some("x")), Err(StoreError::WrongPassphrase)));
    store.protect_device_key(Some("first words"), Some("second words")).unwrap();
    assert!(matches!(store.device_key(), Err(StoreError::KeyLocked)), "a change locks it");
    store.protect_device_key(Some("second words"), None).unwrap();
    assert_eq!(store.device_key().unwrap().unwrap().key.public(), key(1).public());
    let mode = fs::metadata(folder.path().join("keys/device.pem")).unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o600);
    let mode = fs::metadata(folder.path().join("keys")).unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o700);
}

#[test]
fn a_replaced_key_leaves_its_public_half_and_nothing_else() {
    let folder = tempfile::tempdir().unwrap();
    let store = open(folder.path());
    store.keep_device_key(&key(1)).unwrap();
    for next in [2, 3] {
        store.stage_device_key(&key(next), None).unwrap();
        assert_eq!(store.staged_device_key(None).unwrap().unwrap().key.public(), key(next).public());
        assert_eq!(store.device_key().unwrap().unwrap().key.public(), key(next - 1).public());
        store.promote_staged_key().unwrap();
        assert!(store.staged_device_key(None).unwrap().is_none());
    }
    store.promote_staged_key().unwrap();
    assert_eq!(store.own_public_keys().unwrap(), [key(1).public(), key(2).public(), key(3).public()]);
    let secret = |seed| key(seed).private_pem().unwrap().lines().nth(1).unwrap().to_owned();
    let kept: Vec<String> =
        walk(&folder.path().join("keys")).iter().map(|path| fs::read_to_string(path).unwrap()).collect();
    assert!(kept.iter().any(|text| text.contains(&secret(3))));
    assert!(!kept.iter().any(|text| text.contains(&secret(1)) || text.contains(&secret(2))));
}

/// Whatever step power fails at, the device has the old key or the new one, and the old public half if it's the new.
#[test]
fn lost_power_never_leaves_it_without_a_key() {
    let run = |fault: Fault| {
        let folder = tempfile::tempdir().unwrap();
        let disk = FaultyDisk::new(fault);
        let options = OpenOptions { disk: Arc::new(disk.clone()), ..OpenOptions::default() };
        let store = Store::open(folder.path(), &options).unwrap();
        store.keep_device_key(&key(1)).unwrap();
        let from = disk.steps().len();
        let done = store.stage_device_key(&key(2), None).and_then(|()| store.promote_staged_key());
        (folder, disk, from, done.is_ok())
    };
    let (_folder, disk, from, well) = run(Fault::None);
    assert!(well);
    for step in from..disk.steps().len() {
        let (folder, disk, _, _) = run(Fault::PowerCut(step));
        disk.drop_unsynced();
        let store = open(folder.path());
        store.promote_staged_key().unwrap();
        let now = store.device_key().unwrap().unwrap().key.public();
        let all = store.own_public_keys().unwrap();
        assert!(now == key(1).public() || all == [key(1).public(), key(2).public()], "step {step}: {all:?}");
    }
}

fn walk(folder: &Path) -> Vec<std::path::PathBuf> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    entries.flat_map(|path| if path.is_dir() { walk(&path) } else { vec![path] }).collect()
}
