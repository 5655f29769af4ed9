//! Somebody who rewrites a packet, manifests and container included, must still be caught.

use evidence::packet::{Code, Options, Verdict};
use evidence::{Checkpoint, Digest};

use crate::folder::{Folder, text};
use crate::histories::shorten;
use crate::sample::{Device, Sample, verdict, verdict_with};

const LOG: &str = "data/logs/bench-phone";

/// Changes the folder, repacks it with fitting manifests, and demands that both verifiers refuse it.
fn refused(change: impl Fn(&Folder)) -> Verdict {
    let folder = Folder::of(&Sample::new().whole());
    change(&folder);
    let verdict = verdict(&folder.repack());
    assert!(!verdict.good);
    assert!(verdict.problems.iter().all(|problem| problem.code != Code::Manifest), "{:#?}", verdict.problems);
    let script = folder.script();
    assert_eq!(script.status.code(), Some(1), "{}{}", text(&script.stdout), text(&script.stderr));
    verdict
}

fn names(verdict: &Verdict, place: &str, code: Code) -> bool {
    verdict.problems.iter().any(|problem| problem.place.as_deref() == Some(place) && problem.code == code)
}

#[test]
fn a_rewritten_record_breaks_the_chain() {
    let path = format!("{LOG}/records/000002.json");
    let found = refused(|folder| folder.replace(&path, "12.41 V", "10.41 V"));
    assert!(names(&found, &format!("{LOG}/records/000003.json"), Code::Chain));
    assert!(names(&found, &format!("{LOG}/checkpoint-001.txt"), Code::Chain));
}

#[test]
fn a_rewritten_last_record_breaks_the_root() {
    let path = format!("{LOG}/records/000006.json");
    let found = refused(|folder| folder.replace(&path, "14:06:07", "14:05:07"));
    assert!(names(&found, &format!("{LOG}/checkpoint-003.txt"), Code::Chain));
}

#[test]
fn a_swapped_photo_is_named() {
    let path = Folder::of(&Sample::new().whole()).list("data/photos")[1].clone();
    let found = refused(|folder| std::fs::write(folder.file(&path), "another picture").unwrap());
    assert!(names(&found, &path, Code::Photo));
}

#[test]
fn an_added_photo_that_no_record_names_is_named() {
    let path = format!("data/photos/{}.jpg", Digest::of(b"planted"));
    let found = refused(|folder| std::fs::write(folder.file(&path), "planted").unwrap());
    assert!(names(&found, &path, Code::Photo));
}

#[test]
fn a_swapped_report_is_named() {
    let found =
        refused(|folder| std::fs::write(folder.file("data/report/findings-en.pdf"), "%PDF- other").unwrap());
    assert!(names(&found, "data/report/findings-en.pdf", Code::Report));
}

#[test]
fn an_invented_disclosure_is_named() {
    let other = evidence::Disclosure::new([3; 16], "owner", serde_json::json!("Somebody Else")).unwrap();
    let path = format!("data/disclosures/{}.txt", other.digest());
    let found = refused(|folder| std::fs::write(folder.file(&path), other.encoded()).unwrap());
    assert!(names(&found, &path, Code::Disclosure));
}

#[test]
fn a_swapped_signature_is_named() {
    let found = refused(|folder| {
        let (one, two) = (
            folder.file(&format!("{LOG}/checkpoint-001.sig")),
            folder.file(&format!("{LOG}/checkpoint-002.sig")),
        );
        std::fs::copy(one, two).unwrap();
    });
    assert!(names(&found, &format!("{LOG}/checkpoint-002.txt"), Code::Signature));
}

#[test]
fn a_record_taken_out_of_the_middle_is_noticed() {
    let found =
        refused(|folder| std::fs::remove_file(folder.file(&format!("{LOG}/records/000003.json"))).unwrap());
    assert!(found.problems.iter().any(|problem| problem.code == Code::Chain));
}

/// The other device knew the record that was dropped together with the checkpoints over it.
#[test]
fn a_tail_dropped_with_its_checkpoints_shows_in_the_other_log() {
    let mut sample = Sample::new();
    let shortened = shorten(&sample.devices[0], 3);
    sample.devices[0] = shortened;
    let found = verdict(&sample.bare());
    assert!(names(&found, LOG, Code::OtherLogs), "{:#?}", found.problems);
}

#[test]
fn a_dropped_tail_shows_against_the_checkpoint_handed_over() {
    let mut sample = Sample::new();
    let handed_over = sample.bench().checkpoint();
    let grown = verdict_with(&sample.whole(), &expecting(&handed_over));
    assert!(grown.good, "{:#?}", grown.problems);
    let early = sample.bench().checkpoints[0].checkpoint().unwrap();
    assert!(verdict_with(&sample.whole(), &expecting(&early)).good);
    sample.devices.truncate(1);
    sample.devices[0] = shorten(&sample.devices[0], 3);
    let short = sample.bare();
    assert!(verdict(&short).good, "alone it looks whole");
    assert!(names(&verdict_with(&short, &expecting(&handed_over)), LOG, Code::Tail));
    let elsewhere = Checkpoint { origin: "corner-garage/job-0043/bench-phone".into(), ..handed_over };
    assert!(!verdict_with(&short, &expecting(&elsewhere)).good);
}

#[test]
fn a_log_signed_again_with_another_key_shows_against_the_fingerprint_handed_over() {
    let mut sample = Sample::new();
    let handed_over = sample.bench().key.fingerprint().unwrap();
    let options = Options { trusted_fingerprints: vec![handed_over], ..Options::default() };
    let right = verdict_with(&sample.whole(), &options);
    assert!(right.good && right.logs[0].trusted && !right.logs[1].trusted);
    let forger = Device::new("bench-phone", 66);
    let bench = &mut sample.devices[0];
    bench.key = forger.key;
    bench.checkpoints =
        bench.checkpoints.iter().map(|signed| bench.key.sign(&signed.checkpoint().unwrap())).collect();
    let forged = sample.whole();
    assert!(verdict(&forged).good, "by itself it looks right");
    assert!(names(&verdict_with(&forged, &options), &format!("{LOG}/key.pem"), Code::Key));
}

#[test]
fn a_withheld_value_leaves_every_proof_standing_and_can_be_added_later() {
    let sample = Sample::new();
    let packet = sample.packet(&|name| name != "phone");
    let verdict = verdict(&packet);
    assert!(verdict.good, "{:#?}", verdict.problems);
    assert_eq!(verdict.disclosed, 2);
    let folder = Folder::of(&packet);
    assert_eq!(folder.script().status.code(), Some(0));
    let phone = sample.bench().disclosures.iter().find(|disclosure| disclosure.name() == "phone").unwrap();
    assert!(!text(&packet).contains(phone.encoded()) && !text(&packet).contains("555 0100"));
    let path = folder.file(&format!("data/disclosures/{}.txt", phone.digest()));
    std::fs::write(path, phone.encoded()).unwrap();
    assert!(folder.repack() == sample.whole());
}

#[test]
fn an_unknown_script_is_pointed_out() {
    let folder = Folder::of(&Sample::new().whole());
    std::fs::write(folder.file("data/verify.sh"), "#!/bin/sh\necho OK\n").unwrap();
    let verdict = verdict(&folder.repack());
    assert!(verdict.good && verdict.script.is_none());
    assert!(verdict.not_proven.iter().any(|said| said.place.as_deref() == Some("data/verify.sh")));
}

#[test]
fn two_packets_in_one_file_are_refused() {
    let packet = Sample::new().whole();
    assert!(!verdict(&[&packet[..], &packet[..]].concat()).good);
}

fn expecting(checkpoint: &Checkpoint) -> Options {
    Options { expected_checkpoints: vec![checkpoint.clone()], ..Options::default() }
}
