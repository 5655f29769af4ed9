//! Keys through the api: changed, protected, lost, and what a verdict then says.

use crate::shop::*;
use api::Workshop;
use api::entry::*;
use evidence::packet::{Options, Verdict, verify};
use std::fs::File;
use std::ops::ControlFlow;

fn packet(workshop: &Workshop, job: &str) -> String {
    assert!(workshop.packet_write(job, &PacketEntry::preset("en", "customer")).unwrap().good);
    workshop.job_view(job).unwrap().packets[0].path.clone()
}

fn trusting(path: &str, fingerprint: &str) -> Verdict {
    let options = Options { trusted_fingerprints: vec![fingerprint.parse().unwrap()], ..Options::default() };
    verify(&mut File::open(path).unwrap(), &options, &mut |_| ControlFlow::Continue(())).unwrap()
}

fn fingerprint(workshop: &Workshop) -> String {
    workshop.shop_view().unwrap().device.fingerprint
}

#[test]
fn who_holds_the_old_fingerprint_finds_the_way_to_the_new_key() {
    let shop = Shop::open();
    let job = shop.measuring();
    shop.workshop.report_write(&job, "en", "customer").unwrap();
    let handed_over = fingerprint(&shop.workshop);
    shop.workshop.key_change("").unwrap();
    let newest = fingerprint(&shop.workshop);
    assert_ne!(handed_over, newest);
    let untouched = packet(&shop.workshop, &job);
    let verdict = trusting(&untouched, &handed_over);
    assert!(verdict.good, "{:?}", verdict.problems);
    assert!(verdict.logs[0].trusted, "the old key leads to the new one");
    assert_eq!(verdict.logs[0].keys.len(), 2);
    let kinds: Vec<String> =
        shop.workshop.job_view(&job).unwrap().timeline.into_iter().map(|entry| entry.kind).collect();
    assert!(kinds.contains(&"key_changed".to_owned()), "{kinds:?}");
    let after = shop.job().job;
    let first = &shop.workshop.job_view(&after).unwrap().timeline[0];
    assert_eq!(first.kind, "job_opened", "a job that begins with the new key needs no statement");
}

#[test]
fn a_passphrase_locks_signing_and_loses_nothing() {
    let shop = Shop::open();
    let job = shop.measuring();
    shop.workshop.key_protect("", "four words never together").unwrap();
    let Shop { workshop, folder, clock } = shop;
    drop(workshop);
    let workshop = Workshop::open_at(folder.path(), clock).unwrap();
    assert_eq!(workshop.shop_view().unwrap().device.state, "locked");
    workshop.estimate_keep(&job, &LinesEntry { lines: vec![line("labour", "100.00")] }).unwrap();
    let before = workshop.job_view(&job).unwrap().timeline.len();
    assert_eq!(Shop::code(workshop.approval_keep(&job, &approval(1))), "key_locked");
    assert_eq!(workshop.job_view(&job).unwrap().timeline.len(), before, "refused before it was kept");
    assert_eq!(Shop::code(workshop.key_unlock("four words always together")), "wrong_passphrase");
    workshop.key_unlock("four words never together").unwrap();
    workshop.approval_keep(&job, &approval(1)).unwrap();
    assert_eq!(workshop.shop_view().unwrap().device.protection, "passphrase");
}

#[test]
fn a_lost_key_is_a_break_that_shows() {
    let shop = Shop::open();
    let job = shop.measuring();
    packet(&shop.workshop, &job);
    let lost = fingerprint(&shop.workshop);
    assert_eq!(Shop::code(shop.workshop.key_lost("")), "key_not_lost");
    let Shop { workshop, folder, clock } = shop;
    drop(workshop);
    for entry in walk(folder.path()) {
        let private = std::fs::read_to_string(&entry).is_ok_and(|text| text.contains("PRIVATE KEY"));
        if private {
            std::fs::remove_file(entry).unwrap();
        }
    }
    let workshop = Workshop::open_at(folder.path(), clock).unwrap();
    assert_eq!(workshop.shop_view().unwrap().device.state, "lost");
    let write = workshop.packet_write(&job, &PacketEntry::preset("en", "customer"));
    assert_ne!(Shop::code(write.map(|_| ())), "not_set_up");
    workshop.key_lost("").unwrap();
    let verdict = trusting(&packet(&workshop, &job), &lost);
    assert!(!verdict.logs[0].trusted, "nobody vouches for the new key");
}

fn walk(folder: &std::path::Path) -> Vec<std::path::PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    entries.flat_map(|path| if path.is_dir() { walk(&path) } else { vec![path] }).collect()
}
