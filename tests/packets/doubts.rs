//! What the verdict says where the clock, or a record's own words, can't be right.

use evidence::packet::{Code, Options};
use evidence::timestamp::{self, AuthorityRoot, TimestampBody};
use evidence::{Checkpoint, EvidenceError, tree};
use serde_json::{Value, json, to_value};

use crate::authority::{Authority, USUAL};
use crate::folder::Folder;
use crate::histories::alone;
use crate::sample::{Device, verdict, verdict_with};

/// A job on a day, stamped now by an authority; the places of what is doubted, with its root named and without.
fn doubts_on(day: &'static str) -> (Vec<String>, Vec<String>) {
    let authority = Authority::new(USUAL);
    let mut device = Device::new("bench-phone", 1);
    device.day = day;
    device.record("job_opened", json!({}), &[], &[], &[]);
    device.sign();
    let checkpoint = device.checkpoint();
    let reply = authority.answer(&timestamp::query(checkpoint.text().as_bytes(), 1).unwrap());
    let token = timestamp::token_of_reply(&reply).unwrap();
    let body = TimestampBody::new("https://tower-clock.example/stamp", &checkpoint, 1, &token);
    device.record(timestamp::KIND, to_value(body).unwrap(), &[], &[], &[]);
    device.sign();
    let packet = alone(device).bare();
    let roots = AuthorityRoot::read(&authority.read("root.crt")).unwrap();
    let places = |roots| {
        let found = verdict_with(&packet, &Options { authority_roots: roots, ..Options::default() });
        assert!(found.good, "{:#?}", found.problems);
        let doubts = found.doubts.into_iter().inspect(|doubt| assert_eq!(doubt.code, Code::Clock));
        doubts.map(|doubt| doubt.place.unwrap().replace("data/logs/bench-phone/records/", "")).collect()
    };
    (places(roots), places(Vec::new()))
}

/// Nothing can have existed, by a clock that is right, later than a time by which it existed.
#[test]
fn a_clock_ahead_of_the_time_from_outside_is_doubted_at_the_record_it_covers() {
    assert_eq!(doubts_on("2099-04-05"), (vec!["000000.json".to_owned()], vec![]));
}

#[test]
fn a_clock_behind_the_time_from_outside_is_doubted_at_the_record_that_holds_it() {
    assert_eq!(doubts_on("2021-04-05"), (vec!["000001.json".to_owned()], vec![]));
}

/// Kinds of record that promise a body: another body is refused by the writer, and by the verifier if somebody wrote
/// the packet by other means.
#[test]
fn records_that_do_not_say_what_their_kind_promises_are_refused() {
    let kinds = [
        ("timestamp", Code::Timestamp),
        ("key_changed", Code::Key),
        ("key_lost", Code::Key),
        ("device_added", Code::Key),
        ("photo_redacted", Code::Redaction),
    ];
    for (kind, code) in kinds {
        for body in [json!({}), json!({"token": 1, "device": "x", "redactions": [{}]})] {
            let found = verdict(&written_by_other_means(kind, body));
            let place = "data/logs/bench-phone/records/000000.json";
            let named = found.problems.iter().any(|p| p.code == code && p.place.as_deref() == Some(place));
            assert!(!found.good && named, "{kind}: {:#?}", found.problems);
        }
    }
}

/// The record is written with an innocent kind, then given the kind, and everything over it is made anew.
fn written_by_other_means(kind: &str, body: Value) -> Vec<u8> {
    let mut device = Device::new("bench-phone", 1);
    device.record("note", body.clone(), &[], &[], &[]);
    device.sign();
    let innocent = alone(device).bare();
    let mut guilty = Device::new("bench-phone", 1);
    guilty.record(kind, body, &[], &[], &[]);
    guilty.sign();
    let refused = evidence::packet::write(
        &evidence::packet::PacketContents { logs: vec![guilty.packet_log()], ..Default::default() },
        &mut std::io::Cursor::new(Vec::new()),
        &mut |_| std::ops::ControlFlow::Continue(()),
    );
    assert!(matches!(refused, Err(EvidenceError::BadContents(_))), "{kind}: {refused:?}");
    let folder = Folder::of(&innocent);
    let log = |name: &str| folder.file(&format!("data/logs/bench-phone/{name}"));
    std::fs::write(log("records/000000.json"), &guilty.records[0]).unwrap();
    let root = tree::leaf(&guilty.records[0]);
    let signed = guilty.key.sign(&Checkpoint { origin: guilty.id.origin(), size: 1, root });
    std::fs::write(log("checkpoint-001.txt"), &signed.text).unwrap();
    std::fs::write(log("checkpoint-001.sig"), signed.signature).unwrap();
    std::fs::write(log("checkpoint-001.note"), &signed.note).unwrap();
    folder.repack()
}
