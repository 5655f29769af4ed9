//! `testimeter verify --remember`: what was seen once must be the same or have grown when it is seen again.

use std::path::Path;
use std::process::{Command, Output};

use evidence::SignedCheckpoint;
use serde_json::Value;
use tempfile::TempDir;

use crate::folder::{run, text};
use crate::histories::{alone, packet, shorten};
use crate::sample::Sample;
use crate::vectors::program;

fn verify(place: &Path, packet: &[u8]) -> Output {
    std::fs::write(place.join("packet.zip"), packet).unwrap();
    let mut command = Command::new(program());
    run(command.arg("verify").arg(place.join("packet.zip")).arg("--remember").arg(place.join("heads.json")))
}

/// Sizes of the remembered heads, by device.
fn sizes(place: &Path) -> Vec<(String, u64)> {
    let kept: Value = serde_json::from_slice(&std::fs::read(place.join("heads.json")).unwrap()).unwrap();
    let heads = kept["heads"].as_object().unwrap().iter();
    let size = |note: &Value| {
        SignedCheckpoint::from_note(note.as_str().unwrap()).unwrap().checkpoint().unwrap().size
    };
    heads.map(|(origin, note)| (origin.rsplit('/').next().unwrap().to_owned(), size(note))).collect()
}

fn short() -> Vec<u8> {
    alone(shorten(&Sample::new().devices[0], 3)).bare()
}

#[test]
fn a_log_that_grows_is_followed() {
    let place = TempDir::new().unwrap();
    let first = verify(place.path(), &short());
    assert_eq!(first.status.code(), Some(0), "{}", text(&first.stdout));
    assert_eq!(sizes(place.path()), [("bench-phone".to_owned(), 3)]);
    let grown = verify(place.path(), &Sample::new().whole());
    assert_eq!(grown.status.code(), Some(0), "{}", text(&grown.stdout));
    assert_eq!(sizes(place.path()), [("bench-phone".to_owned(), 7), ("desk-tablet".to_owned(), 1)]);
    let said = text(&grown.stdout);
    assert!(said.contains("Records 1\u{2013}3 of bench-phone are those seen at an earlier check."), "{said}");
    // What was seen isn't what was handed over.
    let again = text(&verify(place.path(), &Sample::new().whole()).stdout);
    assert!(again.contains("Records 1\u{2013}7 of bench-phone could have been rewritten"), "{again}");
    assert!(
        again.contains("may be missing at the end of the log of bench-phone")
            && !again.contains("were given.")
    );
}

#[test]
fn a_rollback_and_a_fork_stop_with_both_heads_and_leave_the_file() {
    for (name, then, word) in
        [("rollback", short(), "a rollback"), ("fork", packet("second history").unwrap(), "a fork")]
    {
        let place = TempDir::new().unwrap();
        let bench = alone(Sample::new().devices.remove(0)).bare();
        assert_eq!(verify(place.path(), &bench).status.code(), Some(0));
        let before = std::fs::read(place.path().join("heads.json")).unwrap();
        let out = verify(place.path(), &then);
        let said = text(&out.stdout);
        assert_eq!(out.status.code(), Some(1), "{name}: {said}");
        let seen = Sample::new().bench().checkpoints[2].text.lines().nth(2).unwrap().to_owned();
        assert!(said.contains(word) && said.contains(&seen) && said.contains("Here: "), "{said}");
        assert_eq!(std::fs::read(place.path().join("heads.json")).unwrap(), before);
    }
}

#[test]
fn a_file_that_is_not_whole_is_an_error_and_stays() {
    let good = {
        let place = TempDir::new().unwrap();
        verify(place.path(), &short());
        std::fs::read_to_string(place.path().join("heads.json")).unwrap()
    };
    let cut: String = good.chars().take(good.len() / 2).collect();
    let renamed = good.replace("job-0042/bench-phone\": ", "job-0042/other-phone\": ");
    let newer = good.replace("\"testimeter_heads\": 1", "\"testimeter_heads\": 2");
    assert!(renamed != good && newer != good);
    for broken in [String::new(), "{}".to_owned(), cut, renamed, newer] {
        let place = TempDir::new().unwrap();
        std::fs::write(place.path().join("heads.json"), &broken).unwrap();
        let out = verify(place.path(), &short());
        assert_eq!(out.status.code(), Some(2), "{broken}");
        assert!(text(&out.stderr).contains("not a whole file of remembered heads"), "{}", text(&out.stderr));
        assert_eq!(std::fs::read_to_string(place.path().join("heads.json")).unwrap(), broken);
    }
}

#[test]
fn a_bad_packet_is_not_remembered() {
    let place = TempDir::new().unwrap();
    let mut packet = short();
    let at = packet.len() / 2;
    packet[at] ^= 1;
    assert_eq!(verify(place.path(), &packet).status.code(), Some(1));
    assert!(!place.path().join("heads.json").exists());
    let left = std::fs::read_dir(place.path()).unwrap().count();
    assert_eq!(left, 1, "nothing but the packet");
}
