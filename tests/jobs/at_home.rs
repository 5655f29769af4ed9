//! What a shop sees of its own data: a locked key makes capture wait, what nobody signed for counts nowhere, and everything is
//! checked once a week.

use std::path::{Path, PathBuf};
use std::process::Command;

use api::Workshop;
use api::entry::*;
use api::view::NoticeView;

use crate::one_door::approved;
use crate::shop::{Shop, reading};

const WORDS: &str = "seven copper relays hum";

fn sql(folder: &Path, statement: &str) {
    let database = folder.join("testimeter.sqlite");
    let done = Command::new("sqlite3").arg(database).arg(statement).output().unwrap();
    assert!(done.status.success() && done.stderr.is_empty(), "{done:?}");
}

fn journal(folder: &Path, job: &str) -> PathBuf {
    let folder = folder.join("logs").join(job);
    let listed = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    listed.into_iter().find(|path| path.extension().is_some_and(|extension| extension == "jsonl")).unwrap()
}

fn codes(notices: &[NoticeView]) -> Vec<&str> {
    notices.iter().map(|notice| notice.code.as_str()).collect()
}

/// As a folder of an older version is: only checkpoints are signed.
fn without_signatures(folder: &Path) {
    sql(folder, "DELETE FROM signatures");
    std::fs::remove_dir_all(folder.join("logs")).unwrap();
}

#[test]
fn while_the_key_is_locked_what_is_typed_waits_in_its_draft() {
    let mut shop = Shop::open();
    let job = shop.measuring();
    shop.workshop.key_protect("", WORDS).unwrap();
    shop.reopen_after(|_| {});
    assert_eq!(shop.workshop.shop_view().unwrap().device.state, "locked");
    let before = shop.workshop.job_view(&job).unwrap().records;
    let form = Form { job: job.clone(), draft: "reading-x".into(), records: None };
    shop.workshop.draft_keep(&job, "reading-x", "12.4").unwrap();
    assert_eq!(Shop::code(shop.workshop.reading_keep(form.clone(), &reading("12.4", "V"))), "key_locked");
    assert_eq!(shop.workshop.draft_view(&job, "reading-x").unwrap(), "12.4");
    assert_eq!(shop.workshop.job_view(&job).unwrap().records, before);
    shop.workshop.key_unlock(WORDS).unwrap();
    let view = shop.workshop.reading_keep(form, &reading("12.4", "V")).unwrap();
    assert_eq!((view.records, view.readings.len()), (before + 1, 1));
    assert_eq!(shop.workshop.draft_view(&job, "reading-x").unwrap(), "");
}

#[test]
fn records_that_nobody_signed_count_nowhere_until_their_owner_takes_them_in() {
    let mut shop = Shop::open();
    let job = approved(&shop);
    shop.workshop.reading_keep(&job, &reading("4.0", "V")).unwrap();
    shop.workshop.reading_keep(&job, &reading("4.1", "V")).unwrap();
    let before = shop.workshop.job_view(&job).unwrap();
    shop.reopen_after(without_signatures);
    let view = shop.workshop.job_view(&job).unwrap();
    assert_eq!((view.readings.len(), view.approvals.len()), (1, 1), "the approval's checkpoint is signed");
    let notice = view.notices.iter().find(|notice| notice.code == "records_not_vouched").unwrap();
    assert_eq!(notice.values["records"], "2");
    assert_eq!(view.timeline.len(), before.timeline.len(), "they are seen");
    assert_eq!(view.timeline.last().unwrap().doubts, ["record_not_vouched"]);
    assert_eq!(Shop::code(shop.workshop.reading_keep(&job, &reading("4.2", "V"))), "records_not_vouched");
    let packet = PacketEntry::preset("en", Recipient::Customer);
    assert_eq!(Shop::code(shop.workshop.packet_write(&job, &packet)), "records_not_vouched");
    assert_eq!(
        Shop::code(shop.workshop.report_write(&job, &ReportEntry::full("en", Recipient::Customer))),
        "records_not_vouched"
    );
    let view = shop.workshop.records_take_in(&job).unwrap();
    assert_eq!((view.readings.len(), codes(&view.notices)), (3, vec![]));
    let later = |entry: &&api::view::TimelineEntry| entry.doubts.contains(&"record_signed_later".to_owned());
    assert_eq!(view.timeline.iter().filter(later).count(), 2);
    assert_eq!(view.timeline.last().unwrap().kind, "records_taken_in");
    assert_eq!(Shop::code(shop.workshop.records_take_in(&job)), "nothing_to_take_in");
    shop.workshop.reading_keep(&job, &reading("4.2", "V")).unwrap();
    assert!(shop.workshop.packet_write(&job, &packet).unwrap().good);
}

/// Two approvals written by hand into the journal, chained as ours are.
#[test]
fn an_approval_that_nobody_signed_changes_no_amount() {
    let mut shop = Shop::open();
    let job = approved(&shop);
    let before = shop.workshop.job_view(&job).unwrap();
    let (id, amount) = (job.clone(), before.approved_total.clone());
    shop.reopen_after(|folder| {
        let path = journal(folder, &id);
        let text = std::fs::read_to_string(&path).unwrap();
        let records: Vec<&str> = text
            .lines()
            .filter_map(|line| line.split_once("\"record\":"))
            .filter_map(|(_, rest)| rest.strip_suffix('}'))
            .collect();
        let approval = records.iter().find(|record| record.contains("\"kind\":\"approval_kept\"")).unwrap();
        let last = records.last().unwrap();
        let sequence = evidence::Record::parse(last.as_bytes()).unwrap().sequence;
        let mut forged = evidence::Record::parse(approval.as_bytes()).unwrap();
        forged.sequence = sequence + 1;
        forged.previous = Some(evidence::tree::leaf(last.as_bytes()));
        forged.body["amount"] = "999900".into();
        let record = String::from_utf8(forged.bytes().unwrap()).unwrap();
        std::fs::write(&path, format!("{text}{{\"disclosures\":[],\"record\":{record}}}\n")).unwrap();
    });
    let view = shop.workshop.job_view(&job).unwrap();
    assert_eq!((view.approved_total, view.timeline.len()), (amount, before.timeline.len()));
    assert_eq!(codes(&view.notices), ["records_set_aside"]);
    assert!(shop.workshop.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer)).unwrap().good);
}

#[test]
fn an_amount_changed_in_the_database_comes_back_and_is_said() {
    let mut shop = Shop::open();
    let job = approved(&shop);
    let before = shop.workshop.job_view(&job).unwrap();
    shop.reopen_after(|folder| {
        let change = "UPDATE records SET bytes = CAST(replace(CAST(bytes AS TEXT), '\"amount\":\"', '\"amount\":\"9') AS BLOB)
                      WHERE kind = 'approval_kept'";
        sql(folder, change);
    });
    let view = shop.workshop.job_view(&job).unwrap();
    assert_eq!((view.approved_total, view.records), (before.approved_total, before.records));
    assert_eq!(codes(&view.notices), ["log_mended"]);
    let said = shop.workshop.notices_view().unwrap();
    assert_eq!(codes(&said), ["log_mended"], "on the first screen, too");
}

#[test]
fn everything_is_checked_once_a_week_in_pieces() {
    let shop = Shop::open();
    let job = shop.measuring();
    let photo = shop.photo(&job, PhotoPurpose::Arrival);
    assert_eq!(shop.workshop.shop_view().unwrap().check.finished, "");
    let mut pieces = 0;
    while shop.workshop.check_step().unwrap() {
        pieces += 1;
        assert!(pieces < 10_000);
    }
    let check = shop.workshop.shop_view().unwrap().check;
    assert_eq!((check.finished.as_str(), check.found), ("2026-10-12T08:00:00.000-05:00", 0));
    assert!(!shop.workshop.check_step().unwrap(), "none is due");
    let shard = photo.sha256.get(..2).unwrap();
    let path = shop.folder.path().join(format!("originals/{shard}/{}.jpg", photo.sha256));
    std::fs::write(path, b"something else").unwrap();
    shop.at("2026-10-18T08:00:00-05:00");
    assert!(!shop.workshop.check_step().unwrap(), "six days");
    shop.at("2026-10-19T09:00:00-05:00");
    while shop.workshop.check_step().unwrap() {}
    assert_eq!(shop.workshop.shop_view().unwrap().check.found, 1);
    assert_eq!(codes(&shop.workshop.notices_view().unwrap()), ["originals_lost"]);
    let again = shop.workshop.shop_check().unwrap();
    assert_eq!((again.found, again.photos, again.not_vouched), (1, 1, 0));
    assert!(again.records >= 4, "{again:?}");
}

#[test]
fn records_of_an_unknown_device_wait_for_their_key_to_be_compared() {
    let first = Shop::open();
    let job = first.measuring();
    first.workshop.reading_keep(&job, &reading("4.0", "V")).unwrap();
    let export = first.workshop.open_export().unwrap().file.path;
    let second = Shop::open();
    let taken = second.workshop.open_import(Path::new(&export), &[]).unwrap();
    let words = first.workshop.shop_view().unwrap().device.fingerprint_words;
    assert_eq!(
        (taken.records_added, taken.strangers.len(), taken.strangers[0].words.as_str()),
        (0, 1, words.as_str())
    );
    assert!(!taken.refused.is_empty(), "{taken:?}");
    let taken =
        second.workshop.open_import(Path::new(&export), &[taken.strangers[0].fingerprint.clone()]).unwrap();
    assert!(taken.records_added > 3 && taken.strangers.is_empty() && taken.refused.is_empty(), "{taken:?}");
    assert_eq!(second.workshop.job_view(&job).unwrap().readings.len(), 1);
}

/// Somebody puts another public key beside a locked one, and signs with that.
#[test]
fn a_key_put_beside_a_locked_one_vouches_for_nothing_once_it_is_unlocked() {
    let mut shop = Shop::open();
    let job = approved(&shop);
    shop.workshop.key_protect("", WORDS).unwrap();
    let before = shop.workshop.job_view(&job).unwrap().records;
    shop.reopen_after(|folder| {
        let his = evidence::DeviceKey::from_seed([66; 32]);
        std::fs::write(folder.join("keys/device.pub.pem"), his.public_pem().unwrap()).unwrap();
    });
    shop.workshop.key_unlock(WORDS).unwrap();
    let view = shop.workshop.job_view(&job).unwrap();
    assert_eq!(view.records, before);
    assert!(codes(&shop.workshop.notices_view().unwrap()).contains(&"public_key_replaced"));
    shop.workshop.reading_keep(&job, &reading("4.0", "V")).unwrap();
    assert!(shop.workshop.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer)).unwrap().good);
    let Shop { workshop, folder, .. } = shop;
    drop(workshop);
    assert_eq!(Workshop::open(folder.path()).unwrap().job_view(&job).unwrap().readings.len(), 2);
}
