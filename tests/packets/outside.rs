//! A packet must satisfy programs that know nothing of us.

use std::process::Command;

use evidence::fingerprint_words;
use testimeter_checks::venv;

use crate::folder::{Folder, run, succeed, text};
use crate::sample::{Sample, verdict};

#[test]
fn sha256sum_and_bagit_find_every_file_and_no_other() {
    for packet in [Sample::new().whole(), Sample::rich().whole()] {
        let folder = Folder::of(&packet);
        for manifest in ["manifest-sha256.txt", "tagmanifest-sha256.txt"] {
            succeed(Command::new("sha256sum").args(["-c", "--strict", manifest]).current_dir(&folder.bag));
        }
        let bagit = venv::python().with_file_name("bagit.py");
        succeed(Command::new(&bagit).arg("--validate").arg(&folder.bag));
        std::fs::write(folder.file("data/README.txt"), "changed").unwrap();
        assert!(!run(Command::new(&bagit).arg("--validate").arg(&folder.bag)).status.success());
    }
}

#[test]
fn openssl_accepts_every_signature_and_prints_our_fingerprint() {
    let sample = Sample::new();
    let folder = Folder::of(&sample.whole());
    for device in &sample.devices {
        let log = folder.file(&format!("data/logs/{}", device.id.device));
        let verify = |number: usize, text: &str| {
            let signature = format!("checkpoint-{number:03}.sig");
            let mut openssl = Command::new("openssl");
            openssl.args([
                "pkeyutl", "-verify", "-rawin", "-pubin", "-inkey", "key.pem", "-in", text, "-sigfile",
            ]);
            run(openssl.arg(signature).current_dir(&log)).status.success()
        };
        for number in 1..=device.checkpoints.len() {
            assert!(verify(number, &format!("checkpoint-{number:03}.txt")));
            assert!(!verify(number, "key.pem"), "a signature over something else");
        }
        let der = succeed(
            Command::new("openssl")
                .args(["pkey", "-pubin", "-in", "key.pem", "-outform", "DER"])
                .current_dir(&log),
        );
        let fingerprint = device.key.fingerprint().unwrap();
        assert_eq!(evidence::Digest::of(&der.stdout), fingerprint);
        assert_eq!(fingerprint_words(&fingerprint).split(' ').count(), 8);
    }
}

#[test]
fn openssl_reads_the_private_key_we_store() {
    let key = evidence::DeviceKey::from_seed([9; 32]);
    let place = tempfile::TempDir::new().unwrap();
    std::fs::write(place.path().join("private.pem"), key.private_pem().unwrap()).unwrap();
    let out =
        succeed(Command::new("openssl").args(["pkey", "-in", "private.pem", "-pubout"]).current_dir(&place));
    assert_eq!(text(&out.stdout), key.public_pem().unwrap());
}

#[test]
fn the_script_agrees_in_the_folder_and_with_the_zip() {
    let folder = Folder::of(&Sample::new().whole());
    let inside = folder.script();
    assert_eq!(inside.status.code(), Some(0), "{}{}", text(&inside.stdout), text(&inside.stderr));
    assert!(text(&inside.stdout).contains("4 of 4 photos"));
    assert!(text(&inside.stdout).contains("could have been rewritten by whoever holds the key"));
    let zipped = run(Command::new("sh").arg(folder.file("data/verify.sh")).arg(folder.zip()));
    assert_eq!(zipped.status.code(), Some(0), "{}", text(&zipped.stderr));
    let missing = run(Command::new("sh").arg(folder.file("data/verify.sh")).arg("no-such.zip"));
    assert_eq!(missing.status.code(), Some(2));
}

/// `dash` and `bash --posix` stand for the shells an outsider may have.
#[test]
fn the_script_runs_in_several_shells() {
    let folder = Folder::of(&Sample::new().whole());
    for shell in [&["dash"][..], &["bash", "--posix"]] {
        let out = run(Command::new(shell[0]).args(&shell[1..]).arg(folder.file("data/verify.sh")));
        assert_eq!(out.status.code(), Some(0), "{shell:?} {}", text(&out.stderr));
    }
}

#[test]
fn python_writes_the_same_zip_byte_for_byte() {
    let packet = Sample::new().whole();
    assert!(Folder::of(&packet).repack() == packet);
    assert!(Sample::new().whole() == packet, "the same contents give the same bytes");
}

#[test]
fn the_verdict_says_what_is_proven_and_what_is_not() {
    let verdict = verdict(&Sample::new().whole());
    assert!(verdict.good, "{:#?}", verdict.problems);
    assert_eq!((verdict.exit_code(), verdict.photos.present, verdict.photos.absent), (0, 4, 0));
    let said = serde_json::to_string(&verdict.not_proven).unwrap();
    for code in ["truth", "timestamp", "key", "tail"] {
        assert!(said.contains(&format!("\"code\":\"{code}\"")), "{code} in {said}");
    }
}
