//! Keys that follow one another, devices that join, times from outside and covered photos: what the verdict says.

use std::process::Command;

use evidence::DeviceKey;
use evidence::packet::{Code, KeyCame, Options, Verdict};
use evidence::timestamp::AuthorityRoot;

use crate::folder::{Folder, run, succeed, text};
use crate::rich::{root, second_key, stamped};
use crate::sample::{Sample, verdict, verdict_with};

fn roots(names: &[&str]) -> Vec<AuthorityRoot> {
    names.iter().flat_map(|name| AuthorityRoot::read(&root(name)).unwrap()).collect()
}

fn trusting(key: &DeviceKey) -> Options {
    Options { trusted_fingerprints: vec![key.fingerprint().unwrap()], ..Options::default() }
}

fn says(findings: &[evidence::packet::Finding], code: Code, words: &str) -> bool {
    findings.iter().any(|finding| finding.code == code && finding.what.contains(words))
}

#[test]
fn the_first_key_vouches_for_the_next_and_for_the_other_device() {
    let packet = Sample::rich().whole();
    let found = verdict_with(&packet, &trusting(&DeviceKey::from_seed([1; 32])));
    assert!(found.good, "{:#?}", found.problems);
    assert!(found.logs.iter().all(|log| log.trusted), "{:#?}", found.logs);
    let bench = &found.logs[0];
    assert_eq!(bench.fingerprint, Some(second_key().fingerprint().unwrap()));
    let came: Vec<_> = bench.keys.iter().map(|key| (key.came, key.from, key.checkpoints)).collect();
    assert_eq!(came, [(KeyCame::First, 0, 2), (KeyCame::Named, 8, 1)]);
    assert!(says(&found.proven, Code::Key, "signed statements"));
    // The other way round nothing follows: the new key never named the old one, nor the tablet.
    let backwards = verdict_with(&packet, &trusting(&second_key()));
    assert!(backwards.good && backwards.logs[0].trusted && !backwards.logs[1].trusted);
    // A key that stands nowhere.
    assert!(!verdict_with(&packet, &trusting(&DeviceKey::from_seed([99; 32]))).good);
}

#[test]
fn times_count_only_by_authorities_that_were_named() {
    let packet = Sample::rich().whole();
    let named = |names: &[&str]| {
        let found = verdict_with(&packet, &Options { authority_roots: roots(names), ..Options::default() });
        assert!(found.good && found.doubts.is_empty(), "{:#?} {:#?}", found.problems, found.doubts);
        found
    };
    let trusted = |found: &Verdict| (found.times.len(), found.claimed_times.len());
    let (none, one, both) = (named(&[]), named(&["sun-dial"]), named(&["sun-dial", "tower-clock"]));
    assert_eq!(trusted(&none), (0, 2));
    assert!(says(&none.not_proven, Code::Timestamp, "no root of an authority was named beforehand"));
    assert_eq!(trusted(&one), (1, 1));
    assert!(says(&one.not_proven, Code::Timestamp, "it leads to no root named beforehand"));
    assert!(says(&one.proven, Code::Timestamp, "Records 1–10 of bench-phone existed by 2031-04-05T19:19:02"));
    assert_eq!(trusted(&both), (2, 0));
    let sizes: Vec<_> = both.times.iter().map(|time| (time.size, time.stamp.authority.as_str())).collect();
    assert_eq!(sizes, [(4, "Tower Clock signer"), (10, "Sun Dial signer")]);
}

#[test]
fn openssl_reads_the_time_stamps_and_statements_where_they_lie() {
    let folder = Folder::of(&Sample::rich().whole());
    let log = folder.file("data/logs/bench-phone");
    for (number, count, authority) in [(1, 1, "tower-clock"), (3, 1, "sun-dial")] {
        let verify = |root: &str| {
            let mut openssl = Command::new("openssl");
            openssl.args([
                "ts",
                "-verify",
                "-token_in",
                "-data",
                &format!("checkpoint-{number:03}.txt"),
                "-in",
            ]);
            openssl.arg(format!("timestamps/checkpoint-{number:03}-{count}.tst"));
            run(openssl.arg("-CAfile").arg(stamped(root)).current_dir(&log)).status.success()
        };
        assert!(verify(&format!("{authority}.crt")));
        let other = if authority == "sun-dial" { "tower-clock.crt" } else { "sun-dial.crt" };
        assert!(!verify(other));
    }
    for (key, stem) in [("keys/001.pem", "keys/001-next"), ("joined/desk-tablet.pem", "joined/desk-tablet")] {
        let mut openssl = Command::new("openssl");
        openssl.args([
            "pkeyutl",
            "-verify",
            "-rawin",
            "-pubin",
            "-inkey",
            key,
            "-in",
            &format!("{stem}.txt"),
        ]);
        succeed(openssl.args(["-sigfile", &format!("{stem}.sig")]).current_dir(&log));
    }
}

#[test]
fn the_script_agrees_with_and_without_roots() {
    let folder = Folder::of(&Sample::rich().whole());
    let out = folder.script();
    let said = text(&out.stdout);
    assert_eq!(out.status.code(), Some(0), "{said}{}", text(&out.stderr));
    assert_eq!(said.matches("NOT PROVEN: a stranger's certificate claims").count(), 2, "{said}");
    let mut with_root = Command::new("sh");
    with_root.arg(folder.file("data/verify.sh")).arg("-r").arg(stamped("sun-dial.crt")).arg(folder.zip());
    let out = run(&mut with_root);
    let said = text(&out.stdout);
    assert_eq!(out.status.code(), Some(0), "{said}{}", text(&out.stderr));
    assert!(said.contains("the first 10 records existed by Apr  5 19:19:02"), "{said}");
    assert_eq!(said.matches("NOT PROVEN").count(), 1, "{said}");
}

#[test]
fn a_covered_photo_stands_in_for_an_original_whose_hash_stays_sealed() {
    let sample = Sample::rich();
    let packet = sample.whole();
    let found = verdict(&packet);
    assert_eq!((found.photos.present, found.photos.absent, found.photos.redacted), (2, 1, 1));
    assert!(says(&found.proven, Code::Redaction, "parts covered"));
    let folder = Folder::of(&packet);
    let covered = format!("data/photos-redacted/{}.jpg", sample.redacted[0].0.sha256);
    assert_eq!(std::fs::read(folder.file(&covered)).unwrap(), sample.redacted[0].1);
    assert!(!folder.file(&format!("data/photos/{}.jpg", sample.kept_back[0])).exists());
    let other = format!("data/photos-redacted/{}.jpg", evidence::Digest::of(b"planted"));
    std::fs::write(folder.file(&other), "planted").unwrap();
    let found = verdict(&folder.repack());
    assert!(found.problems.iter().any(|problem| problem.code == Code::Redaction));
    assert_eq!(folder.script().status.code(), Some(1));
}

#[test]
fn a_copy_without_metadata_is_told_from_a_covered_one() {
    let sample = Sample::stripped_and_lost();
    let packet = sample.whole();
    let found = verdict(&packet);
    assert!(found.good, "{:?}", found.problems);
    assert_eq!((found.photos.present, found.photos.absent), (1, 2));
    assert_eq!((found.photos.redacted, found.photos.stripped, found.photos.missing), (1, 1, 1));
    assert!(says(&found.proven, Code::Stripped, "1 photo shown without what the camera"));
    assert!(!says(&found.proven, Code::Redaction, ""), "nothing is covered");
    assert!(says(
        &found.not_proven,
        Code::PhotoMissing,
        "1 photo whose original the shop says it no longer has"
    ));
    assert!(!says(&found.not_proven, Code::Photo, ""), "none is said to be left out");
    let folder = Folder::of(&packet);
    assert_eq!(folder.script().status.code(), Some(0), "the script knows both by what they are at least");
}

#[test]
fn a_copy_with_marks_says_nothing_of_the_one_beside_it() {
    let packet = Sample::marked().whole();
    let found = verdict(&packet);
    assert!(found.good, "{:?}", found.problems);
    assert_eq!((found.photos.present, found.photos.absent), (1, 2));
    // The third photo is here as a marked copy alone: no more is claimed than that it isn't the original.
    assert_eq!((found.photos.redacted, found.photos.stripped), (2, 1));
    assert!(says(&found.proven, Code::Stripped, "1 photo shown without what the camera"));
    assert!(says(&found.proven, Code::Redaction, "1 photo shown with parts covered"));
    assert_eq!(
        Folder::of(&packet).script().status.code(),
        Some(0),
        "a script of before knows them as copies"
    );
}

#[test]
fn withheld_values_are_counted() {
    let found = verdict(&Sample::rich().packet(&|name| name == "owner"));
    assert_eq!((found.good, found.disclosed, found.withheld), (true, 1, 3));
}

/// A key reported lost: the log goes on, but the break shows, whoever vouches for whom.
#[test]
fn a_lost_key_is_a_visible_break() {
    let first = DeviceKey::from_seed([1; 32]);
    let packet = crate::histories::packet("lost key").unwrap();
    let found = verdict_with(&packet, &trusting(&first));
    assert!(found.good, "{:#?}", found.problems);
    assert!(!found.logs[0].trusted);
    assert_eq!(found.logs[0].keys[1].came, KeyCame::AfterLoss);
    assert!(says(&found.not_proven, Code::Key, "reported lost"));
    assert!(says(&found.not_proven, Code::Key, "after its first 1 record:"));
    let folder = Folder::of(&packet);
    let script = folder.script();
    assert_eq!(script.status.code(), Some(0), "{}", text(&script.stderr));
    assert!(text(&script.stdout).contains("BREAK: from record 1 on"), "{}", text(&script.stdout));
}

/// Which key signs a checkpoint follows from its size; the old one has nothing to say after the change.
#[test]
fn the_old_key_can_not_sign_after_the_change() {
    let sample = Sample::rich();
    let folder = Folder::of(&sample.whole());
    let bench = sample.bench();
    let signed = bench.key.sign(&bench.checkpoint());
    let log = |name: &str| folder.file(&format!("data/logs/bench-phone/{name}"));
    std::fs::write(log("checkpoint-003.sig"), signed.signature).unwrap();
    std::fs::write(log("checkpoint-003.note"), &signed.note).unwrap();
    let found = verdict(&folder.repack());
    let place = Some("data/logs/bench-phone/checkpoint-003.txt");
    assert!(found.problems.iter().any(|p| p.code == Code::Signature && p.place.as_deref() == place));
    assert_eq!(folder.script().status.code(), Some(1));
}
