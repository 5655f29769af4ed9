//! Keys through the api: changed, protected, lost, and what a verdict then says.

use crate::shop::*;
use api::Workshop;
use api::entry::*;
use evidence::packet::{Options, Verdict, verify};
use std::fs::File;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};

fn packet(workshop: &Workshop, job: &str) -> String {
    assert!(workshop.packet_write(job, &PacketEntry::preset("en", Recipient::Customer)).unwrap().good);
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
    shop.workshop.report_write(&job, &ReportEntry::full("en", Recipient::Customer)).unwrap();
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
    assert_eq!(Shop::code(shop.workshop.key_protect("", "short")), "passphrase_too_short");
    shop.workshop.key_protect("", "four words never together").unwrap();
    let Shop { workshop, folder, clock } = shop;
    drop(workshop);
    let workshop = Workshop::open_at(folder.path(), clock).unwrap();
    assert_eq!(workshop.shop_view().unwrap().device.state, "locked");
    let estimate = LinesEntry { lines: vec![line("labour", "100.00")] };
    assert_eq!(Shop::code(workshop.job_open()), "key_locked");
    assert_eq!(Shop::code(workshop.estimate_keep(&job, &estimate)), "key_locked");
    let before = workshop.job_view(&job).unwrap().timeline.len();
    assert_eq!(workshop.job_view(&job).unwrap().timeline.len(), before, "refused before it was kept");
    assert_eq!(Shop::code(workshop.key_unlock("four words always together")), "wrong_passphrase");
    workshop.key_unlock("four words never together").unwrap();
    workshop.estimate_keep(&job, &estimate).unwrap();
    workshop.approval_keep(&job, &approval(1)).unwrap();
    assert_eq!(workshop.shop_view().unwrap().device.protection, "passphrase");
}

/// As a crash leaves it between the old key's statement and the new key's taking over: both files are there.
fn cut_off(folder: &Path, old: &[u8]) {
    let current = walk(folder).into_iter().find(|path| holds_private_key(path)).unwrap();
    std::fs::rename(&current, current.with_file_name("next.pem")).unwrap();
    std::fs::write(&current, old).unwrap();
}

fn holds_private_key(path: &Path) -> bool {
    std::fs::read_to_string(path).is_ok_and(|text| text.contains("PRIVATE KEY"))
}

#[test]
fn a_change_that_a_crash_cut_off_is_ended_at_the_next_start() {
    let shop = Shop::open();
    let job = shop.measuring();
    packet(&shop.workshop, &job);
    let handed_over = fingerprint(&shop.workshop);
    let key = walk(shop.folder.path()).into_iter().find(|path| holds_private_key(path)).unwrap();
    let old = std::fs::read(key).unwrap();
    shop.workshop.key_change("").unwrap();
    let newest = fingerprint(&shop.workshop);
    let Shop { workshop, folder, clock } = shop;
    drop(workshop);
    cut_off(folder.path(), &old);
    let workshop = Workshop::open_at(folder.path(), clock).unwrap();
    assert_eq!(fingerprint(&workshop), newest);
    let verdict = trusting(&packet(&workshop, &job), &handed_over);
    assert!(verdict.good && verdict.logs[0].trusted, "{:?}", verdict.problems);
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
    walk(folder.path()).into_iter().filter(|path| holds_private_key(path)).for_each(|path| {
        std::fs::remove_file(path).unwrap();
    });
    let workshop = Workshop::open_at(folder.path(), clock).unwrap();
    assert_eq!(workshop.shop_view().unwrap().device.state, "lost");
    let write = || workshop.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer));
    assert!(write().unwrap().good, "what was signed before can still be handed out");
    let estimate = LinesEntry { lines: vec![line("labour", "100.00")] };
    assert_eq!(Shop::code(workshop.estimate_keep(&job, &estimate)), "key_is_lost");
    workshop.key_lost("").unwrap();
    workshop.estimate_keep(&job, &estimate).unwrap();
    let verdict = trusting(&packet(&workshop, &job), &lost);
    assert!(!verdict.logs[0].trusted, "nobody vouches for the new key");
}

fn walk(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    entries.flat_map(|path| if path.is_dir() { walk(&path) } else { vec![path] }).collect()
}
