//! Backup, return, open forms and forgetting through the api.

use crate::shop::*;
use api::entry::*;
use api::{Work, Workshop};
use std::path::Path;

pub const NAME: &str = "Odalys Brandt";
pub const PHONE: &str = "555-0142-77";
pub const WORDS: &str = "seven herons under one lamp";

pub fn with_customer(shop: &Shop) -> String {
    let job = shop.measuring();
    let entry = IntakeEntry { customer: Some(NAME.into()), phone: Some(PHONE.into()), ..Default::default() };
    shop.workshop.intake_keep(&job, &entry).unwrap();
    shop.workshop.reading_keep(&job, &reading("4.1", "V")).unwrap();
    job
}

pub fn restore(path: &str, folder: &Path, restore_as: &str) -> Result<api::view::ShopView, api::ApiError> {
    let entry = RestoreEntry { path: path.into(), passphrase: WORDS.into(), restore_as: restore_as.into() };
    api::restore(folder, &entry, &Work::default())
}

#[test]
fn a_shop_comes_back_on_a_bare_machine_and_goes_on() {
    let shop = Shop::open();
    let job = with_customer(&shop);
    assert_eq!(Shop::code(shop.workshop.backup_write("short", false)), "passphrase_too_short");
    let backup = shop.workshop.backup_write(WORDS, true).unwrap().file.path;
    let checked = api::backup_check(Path::new(&backup), WORDS, &Work::default()).unwrap();
    assert!(checked.has_key);
    assert_eq!((checked.damage.as_str(), checked.jobs.len()), ("", 1));
    let bare = tempfile::tempdir().unwrap();
    let before = shop.workshop.job_view(&job).unwrap();
    let view = restore(&backup, bare.path(), "same_device").unwrap();
    assert_eq!(view.device.fingerprint, shop.workshop.shop_view().unwrap().device.fingerprint);
    let again = Workshop::open_at(bare.path(), shop.clock.clone()).unwrap();
    let after = again.job_view(&job).unwrap();
    let leaves =
        |view: &api::view::JobView| view.timeline.iter().map(|e| e.record.clone()).collect::<Vec<_>>();
    assert_eq!(leaves(&before), leaves(&after));
    assert!(again.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer)).unwrap().good);
    drop(again);
    assert_eq!(Shop::code(restore(&backup, bare.path(), "same_device")), "already_set_up");
}

#[test]
fn a_damaged_backup_is_refused_with_what_can_be_read_and_leaves_the_folder_as_it_was() {
    let shop = Shop::open();
    with_customer(&shop);
    let backup = shop.workshop.backup_write(WORDS, false).unwrap().file.path;
    let mut bytes = std::fs::read(&backup).unwrap();
    bytes.truncate(bytes.len() * 2 / 3);
    std::fs::write(&backup, bytes).unwrap();
    assert_ne!(api::backup_check(Path::new(&backup), WORDS, &Work::default()).unwrap().damage, "");
    let bare = tempfile::tempdir().unwrap();
    let folder = bare.path().join("data");
    // What an earlier try that was cut off may have left must be in nobody's way.
    for ending in ["data.restoring", "data.before-restoring"] {
        std::fs::create_dir(bare.path().join(ending)).unwrap();
        std::fs::write(bare.path().join(ending).join("half"), "half").unwrap();
    }
    assert_eq!(Shop::code(restore(&backup, &folder, "same_device")), "backup_damaged");
    assert!(!Workshop::open(&folder).unwrap().shop_view().unwrap().set_up);
    assert!(!bare.path().join("data.restoring").exists(), "half a restored shop stays nowhere");
    assert_eq!(Shop::code(restore(&backup, &folder, "third_device")), "unknown_choice");
    assert_eq!(
        Shop::code(api::backup_check(Path::new(&backup), "another phrase altogether", &Work::default())),
        "wrong_passphrase"
    );
}

#[test]
fn a_second_device_writes_a_log_of_its_own_and_the_first_signs_for_it() {
    let shop = Shop::open();
    let job = with_customer(&shop);
    let backup = shop.workshop.backup_write(WORDS, false).unwrap().file.path;
    let second = tempfile::tempdir().unwrap();
    let device = restore(&backup, second.path(), "second_device").unwrap().device;
    let first_device = shop.workshop.shop_view().unwrap().device;
    assert_ne!(device.fingerprint, first_device.fingerprint);
    let tablet = Workshop::open_at(second.path(), shop.clock.clone()).unwrap();
    shop.at("2026-10-12T09:00:00-05:00");
    tablet.reading_keep(&job, &reading("4.0", "V")).unwrap();
    let export = tablet.open_export().unwrap().file.path;
    shop.workshop.device_add(&device.device, &device.public_key).unwrap();
    let taken = shop.workshop.open_import(Path::new(&export), &[]).unwrap();
    assert!(taken.refused.is_empty() && taken.records_added > 0, "{taken:?}");
    assert_eq!(shop.workshop.job_view(&job).unwrap().readings.len(), 2);
    assert_eq!(shop.workshop.open_import(Path::new(&export), &[]).unwrap().records_added, 0);
    shop.workshop.reading_keep(&job, &reading("4.2", "V")).unwrap();
    let kinds: Vec<String> =
        shop.workshop.job_view(&job).unwrap().timeline.into_iter().map(|entry| entry.kind).collect();
    assert!(kinds.contains(&"device_added".to_owned()), "{kinds:?}");
}

#[test]
fn forgetting_destroys_what_it_may_says_what_stays_and_every_proof_holds() {
    let shop = Shop::open();
    let job = with_customer(&shop);
    let arrival = shop.photo(&job, PhotoPurpose::Arrival);
    shop.workshop.report_write(&job, &ReportEntry::full("en", Recipient::Customer)).unwrap();
    let view = shop.workshop.forgetting_view(&job).unwrap();
    let goes = |field: &str| view.goes.iter().any(|count| count.field == field);
    let stays = |field: &str| view.stays.iter().any(|count| count.field == field);
    assert!(goes("phone") && !stays("phone") && stays("customer"), "{view:?}");
    assert_eq!(view.until, "2032-10-12", "six years from the last record");
    let after = shop.workshop.customer_forget(&job).unwrap();
    assert_eq!((after.intake.phone.as_str(), after.intake.customer.as_str()), ("", NAME));
    assert_eq!(Shop::code(shop.workshop.photo_original(&arrival.sha256)), "photo_not_kept");
    assert!(shop.workshop.jobs_search(&JobsEntry::of(PHONE)).unwrap().rows.is_empty());
    assert_eq!(after.timeline.last().unwrap().kind, "customer_forgotten");
    assert!(shop.workshop.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer)).unwrap().good);
    // The page that was made for that packet still names them: it goes, then nothing is left.
    assert_eq!(Shop::code(shop.workshop.customer_forget(&job)), "kept");
    assert_eq!(Shop::code(shop.workshop.customer_forget(&job)), "nothing_to_forget");
    shop.at("2032-10-13T08:00:00-05:00");
    let after = shop.workshop.customer_forget(&job).unwrap();
    assert_eq!(after.intake.customer, "");
    assert!(shop.workshop.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer)).unwrap().good);
    let Shop { workshop, folder, .. } = shop;
    drop(workshop);
    for path in files(folder.path()) {
        let bytes = std::fs::read(&path).unwrap();
        for word in [NAME, PHONE] {
            let found = bytes.windows(word.len()).any(|window| window == word.as_bytes());
            assert!(!found, "{word} is still in {}", path.display());
        }
    }
}

fn files(folder: &Path) -> Vec<std::path::PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    entries.flat_map(|path| if path.is_dir() { files(&path) } else { vec![path] }).collect()
}
