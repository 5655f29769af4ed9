//! Time from outside through the api: a real authority on this machine (OpenSSL behind HTTP), and one that fails.

use crate::shop::*;
use api::entry::*;
use testimeter_checks::local_authority::LocalAuthority;

fn approved(shop: &Shop) -> String {
    let job = shop.measuring();
    shop.workshop.estimate_keep(&job, &LinesEntry { lines: vec![line("labour", "100.00")] }).unwrap();
    shop.workshop.approval_keep(&job, &approval(1)).unwrap();
    job
}

fn authority(address: String, roots: &str) -> AuthorityEntry {
    AuthorityEntry { address, roots: roots.to_owned() }
}

#[test]
fn nobody_is_asked_unless_chosen() {
    let shop = Shop::open();
    approved(&shop);
    let view = shop.workshop.timestamps_fetch(true).unwrap();
    assert!(view.authorities.is_empty() && view.waiting.is_empty());
}

#[test]
fn an_approval_is_stamped_and_the_packet_proves_the_time() {
    let local = LocalAuthority::start();
    let shop = Shop::open();
    let root = std::fs::read_to_string(local.root()).unwrap();
    shop.workshop.authority_keep(&authority(local.http("stamp"), &root)).unwrap();
    let job = approved(&shop);
    assert_eq!(shop.workshop.authorities_view().unwrap().waiting.len(), 1);
    let view = shop.workshop.timestamps_fetch(false).unwrap();
    assert!(view.waiting.is_empty(), "{:?}", view.waiting);
    let times = shop.workshop.job_view(&job).unwrap().times;
    assert_eq!((times.len(), times[0].trusted, times[0].trouble.as_str()), (1, true, ""));
    assert_eq!(times[0].signer, "signer");
    let verdict = shop.workshop.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer)).unwrap();
    assert!(verdict.good, "{:?}", verdict.problems);
    let said = |said: &api::view::SaidView| said.en.contains(" existed by ");
    assert!(verdict.proven.iter().any(said), "{:?}", verdict.proven);
    let view = shop.workshop.report_write(&job, &ReportEntry::full("en", Recipient::Customer)).unwrap();
    let report = view.reports.last().unwrap().path.clone();
    let read = std::process::Command::new("pdftotext").args([&report, "-"]).output().unwrap();
    let text = String::from_utf8_lossy(&read.stdout).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("The timestamp authority “signer” states"), "{text}");
}

#[test]
fn what_fails_waits_longer_each_time_and_says_why() {
    let local = LocalAuthority::start();
    let shop = Shop::open();
    shop.workshop.authority_keep(&authority(local.http("other-nonce"), "")).unwrap();
    approved(&shop);
    let first = shop.workshop.timestamps_fetch(false).unwrap().waiting;
    assert_eq!(first[0].attempts, 1);
    assert!(!first[0].last_error.is_empty());
    assert_eq!(shop.workshop.timestamps_fetch(false).unwrap().waiting[0].attempts, 1, "not due yet");
    shop.at("2026-10-12T08:01:30-05:00");
    let second = shop.workshop.timestamps_fetch(false).unwrap().waiting;
    assert_eq!(second[0].attempts, 2);
    shop.at("2026-10-12T08:03:00-05:00");
    assert_eq!(shop.workshop.timestamps_fetch(false).unwrap().waiting[0].attempts, 2, "the pause doubled");
    let none = shop.workshop.authority_remove(&local.http("other-nonce")).unwrap();
    assert!(none.authorities.is_empty() && none.waiting.is_empty());
}

#[test]
fn more_than_one_authority_and_one_that_is_not_who_it_should_be() {
    let (good, stranger) = (LocalAuthority::start(), LocalAuthority::start());
    let shop = Shop::open();
    let root = std::fs::read_to_string(good.root()).unwrap();
    shop.workshop.authority_keep(&authority(good.http("stamp"), &root)).unwrap();
    shop.workshop.authority_keep(&authority(stranger.http("stamp"), &root)).unwrap();
    let job = approved(&shop);
    let waiting = shop.workshop.timestamps_fetch(false).unwrap().waiting;
    assert_eq!(waiting.len(), 1, "the stranger's token leads to no root that was named");
    assert_eq!(waiting[0].authority, stranger.http("stamp"));
    assert_eq!(shop.workshop.job_view(&job).unwrap().times.len(), 1);
}

#[test]
fn addresses_and_roots_that_cannot_be_are_refused() {
    let shop = Shop::open();
    let code = |entry: AuthorityEntry| Shop::code(shop.workshop.authority_keep(&entry));
    assert_eq!(code(authority("time.example".into(), "")), "authority_address");
    assert_eq!(code(authority("https://time.example".into(), "not a certificate")), "authority_root");
}

/// Four jobs wait for an authority that takes a question and never answers, and for one that does. The time-out is the
/// shipped one: 20 seconds, once.
#[test]
fn an_authority_that_never_answers_is_asked_once_a_round_and_holds_up_no_other() {
    let (silent, good) = (LocalAuthority::start(), LocalAuthority::start());
    let shop = Shop::open();
    shop.workshop.authority_keep(&authority(silent.http("silent"), "")).unwrap();
    shop.workshop.authority_keep(&authority(good.http("stamp"), "")).unwrap();
    let jobs: Vec<String> = (0..4).map(|_| approved(&shop)).collect();
    let view = shop.workshop.timestamps_fetch(false).unwrap();
    assert_eq!(asked(&silent), "1", "each further question would have waited 20 seconds more");
    for job in &jobs {
        assert_eq!(shop.workshop.job_view(job).unwrap().times.len(), 1, "the other authority went on");
    }
    let unreachable: Vec<bool> = view.authorities.iter().map(|authority| authority.unreachable).collect();
    assert_eq!(unreachable, [true, false], "the screen says which one");
    assert_eq!(view.waiting.len(), 4);
    assert_eq!(view.waiting.iter().map(|waiting| waiting.attempts).sum::<u32>(), 1);
    assert!(view.waiting.iter().all(|waiting| !waiting.last_error.is_empty()));
    // Nothing is due before the pause is over; the next round asks again.
    shop.workshop.timestamps_fetch(false).unwrap();
    assert_eq!(asked(&silent), "1");
    shop.at("2026-10-12T08:02:00-05:00");
    shop.workshop.timestamps_fetch(false).unwrap();
    assert_eq!(asked(&silent), "2");
}

fn asked(authority: &LocalAuthority) -> String {
    let said = std::process::Command::new("curl").args(["-s", &authority.http("asked")]).output().unwrap();
    String::from_utf8(said.stdout).unwrap()
}
