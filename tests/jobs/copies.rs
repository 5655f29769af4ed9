//! Copies of the whole shop: with and without the signing key, watched and stopped, remembered; and who may read the folder.

use crate::safe_keeping::{NAME, PHONE, WORDS, restore, with_customer};
use crate::shop::*;
use api::entry::*;
use api::{Work, Workshop};
use std::path::Path;

/// The key stays on the lost phone: the restored one says so, goes on with a new one, and the packet shows the break.
#[test]
fn a_backup_without_the_key_comes_back_as_the_same_shop_with_its_key_lost() {
    let shop = Shop::open();
    let job = with_customer(&shop);
    let before = shop.workshop.shop_view().unwrap().device;
    let backup = shop.workshop.backup_write(WORDS, false).unwrap().file;
    let sum = std::process::Command::new("sha256sum").arg(&backup.path).output().unwrap();
    assert!(String::from_utf8_lossy(&sum.stdout).starts_with(&backup.sha256) && backup.sha256.len() == 64);
    assert!(!api::backup_check(Path::new(&backup.path), WORDS, &Work::default()).unwrap().has_key);
    let bare = tempfile::tempdir().unwrap();
    let device = restore(&backup.path, bare.path(), "same_device").unwrap().device;
    assert_eq!((device.state.as_str(), &device.device), ("lost", &before.device));
    assert_eq!(device.fingerprint, before.fingerprint, "the key that is lost is known");
    let again = Workshop::open_at(bare.path(), shop.clock.clone()).unwrap();
    shop.at("2026-10-12T09:00:00-05:00");
    assert_eq!(Shop::code(again.reading_keep(&job, &reading("4.0", "V"))), "key_is_lost");
    let write = || again.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer));
    let device = again.key_lost("").unwrap().device;
    assert_eq!((device.state.as_str(), device.earlier_keys), ("ready", 1));
    assert_ne!(device.fingerprint, before.fingerprint);
    again.reading_keep(&job, &reading("4.0", "V")).unwrap();
    let verdict = write().unwrap();
    assert!(verdict.good, "{:?}", verdict.problems);
    let kinds: Vec<String> =
        again.job_view(&job).unwrap().timeline.into_iter().map(|entry| entry.kind).collect();
    assert!(kinds.contains(&"key_lost".to_owned()), "{kinds:?}");
}

#[test]
fn restoring_and_checking_say_how_far_they_are_and_stop_when_asked() {
    let shop = Shop::open();
    let job = with_customer(&shop);
    // Several photos, so that there is something to be in the middle of.
    for _ in 0..3 {
        shop.photo(&job, PhotoPurpose::Arrival);
    }
    let backup = shop.workshop.backup_write(WORDS, false).unwrap().file.path;
    let bare = tempfile::tempdir().unwrap();
    let folder = bare.path().join("data");
    let work = Work::default();
    let entry =
        RestoreEntry { path: backup.clone(), passphrase: WORDS.into(), restore_as: "same_device".into() };
    let restored = || Shop::code(api::restore(&folder, &entry, &work));
    assert_eq!(watched(&work, true, &restored).0, "cancelled");
    assert!(!Workshop::open(&folder).unwrap().shop_view().unwrap().set_up, "nothing half-restored stays");
    assert!(!bare.path().join("data.restoring").exists());
    let checked = || Shop::code(api::backup_check(Path::new(&backup), WORDS, &work));
    assert_eq!(watched(&work, true, &checked).0, "cancelled");
    assert_eq!(work.view().what, "", "it ends however it ends");
    // The wish is spent: the next try goes through, and is seen on its way.
    let (code, steps) = watched(&work, false, &restored);
    assert_eq!(code, "kept");
    assert!(
        steps.iter().any(|(what, done, total)| what == "restore" && done == total && *total > 0),
        "{steps:?}"
    );
}

/// Runs the work and looks on: what was seen of it, as what, done, total. Asks it to stop once it has begun, if wanted.
fn watched(
    work: &Work,
    stop: bool,
    run: &dyn Fn() -> String,
) -> (String, std::collections::BTreeSet<(String, u32, u32)>) {
    let ended = std::sync::atomic::AtomicBool::new(false);
    let ordering = std::sync::atomic::Ordering::SeqCst;
    std::thread::scope(|threads| {
        let looking = threads.spawn(|| {
            let mut seen = std::collections::BTreeSet::new();
            while !ended.load(ordering) {
                let view = work.view();
                // The passphrase alone takes a good part of a second: there is time to ask.
                if stop && !view.what.is_empty() {
                    work.cancel();
                }
                seen.insert((view.what, view.done, view.total));
                std::thread::sleep(std::time::Duration::from_millis(1));
            }
            seen
        });
        let code = run();
        ended.store(true, ordering);
        (code, looking.join().unwrap())
    })
}

#[test]
fn what_forgetting_cannot_reach_is_named_with_its_time_and_hash() {
    let shop = Shop::open();
    let other = shop.workshop.backup_write(WORDS, false).unwrap().file;
    shop.at("2026-10-12T08:30:00-05:00");
    let job = with_customer(&shop);
    let export = shop.workshop.open_export().unwrap().file;
    shop.at("2026-10-12T09:00:00-05:00");
    let backup = shop.workshop.backup_write(WORDS, false).unwrap().file;
    shop.workshop.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer)).unwrap();
    std::fs::remove_file(&backup.path).unwrap();
    shop.workshop.draft_keep(&job, "note", "half typed").unwrap();
    std::fs::write(shop.folder.path().join("testimeter-damaged-1.sqlite"), NAME).unwrap();
    let view = shop.workshop.forgetting_view(&job).unwrap();
    let copies: Vec<_> = view.copies.iter().map(|copy| (copy.what.as_str(), &copy.name, copy.here)).collect();
    let packet = &view.copies[2].name;
    assert_eq!(
        copies,
        [("open_export", &export.name, true), ("backup", &backup.name, false), ("packet", packet, false)],
        "not the backup {} from before the job",
        other.name
    );
    assert_eq!(view.copies[1].sha256, backup.sha256);
    assert_eq!(view.copies[0].sha256.len(), 64);
    assert!(view.copies.iter().all(|copy| copy.written.starts_with("2026-10-12T0")));
    let aside: Vec<&str> = view.put_aside.iter().map(|file| file.name.as_str()).collect();
    assert_eq!((aside, view.drafts), (vec!["testimeter-damaged-1.sqlite"], 1));
    assert_eq!(view.exports.len(), 2, "the packet and its page on this device: {:?}", view.exports);
    shop.workshop.customer_forget(&job).unwrap();
    assert!(!shop.folder.path().join("testimeter-damaged-1.sqlite").exists());
    let after = shop.workshop.forgetting_view(&job).unwrap();
    assert!(after.put_aside.is_empty() && after.exports.is_empty() && after.drafts == 0, "{after:?}");
    assert_eq!(after.copies.len(), 2, "backup and export are remembered");
    // What is put aside later still goes, though nothing else is left.
    assert_eq!(Shop::code(shop.workshop.customer_forget(&job)), "nothing_to_forget");
    std::fs::write(shop.folder.path().join("testimeter-damaged-2.sqlite"), PHONE).unwrap();
    assert!(!shop.workshop.forgetting_view(&job).unwrap().nothing_left);
    shop.workshop.customer_forget(&job).unwrap();
    assert!(!shop.folder.path().join("testimeter-damaged-2.sqlite").exists());
}

/// Modes are read by `find` (GNU findutils), not by us.
#[cfg(unix)]
#[test]
fn nobody_else_on_the_system_reads_the_folder_and_an_open_one_is_closed_and_said() {
    let modes = |folder: &Path, wrong: &str| {
        let found = std::process::Command::new("find").arg(folder).args(wrong.split(' ')).output().unwrap();
        String::from_utf8(found.stdout).unwrap()
    };
    let outer = tempfile::tempdir().unwrap();
    let folder = outer.path().join("new/data");
    let workshop = Workshop::open(&folder).unwrap();
    workshop.draft_keep("", "intake", "text").unwrap();
    let inside = |wrong: &str| modes(&folder, wrong);
    assert_eq!(inside("-type d -not -perm 0700"), "", "a new folder is its owner's alone");
    assert_eq!(inside("-type f -not -perm 0600"), "");
    assert!(workshop.notices_view().unwrap().is_empty());
    drop(workshop);
    let opened = std::process::Command::new("chmod").args(["-R", "a+rX"]).arg(&folder).status().unwrap();
    assert!(opened.success() && !inside("-type f -perm /0044").is_empty());
    let workshop = Workshop::open(&folder).unwrap();
    assert_eq!(inside("-perm /0077"), "", "an open one is closed");
    let notices = workshop.notices_view().unwrap();
    assert_eq!(notices.len(), 1, "{notices:?}");
    assert_eq!(notices[0].code, "folder_was_open");
    assert_ne!(notices[0].values["files"], "0");
    drop(workshop);
    let again = Workshop::open(&folder).unwrap();
    assert_eq!(again.notices_view().unwrap().len(), 1, "said once");
}
