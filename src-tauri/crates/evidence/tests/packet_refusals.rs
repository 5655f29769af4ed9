//! What the packet writer and reader refuse, and that neither holds a long photo in memory.
#![allow(clippy::unwrap_used)] // Helpers outside `#[test]` may panic here too.

use std::collections::BTreeMap;
use std::io::{Cursor, Read};
use std::ops::ControlFlow;

use evidence::packet::{self, Language, Options, PacketContents, PacketLog, PacketPhoto, PacketReport};
use evidence::{
    Checkpoint, DeviceKey, Digest, EvidenceError, LogHead, LogId, Moment, NewRecord, PhotoRef, seal, tree,
};
use serde_json::json;

/// Longer than what the verifier loads at once, so that it must stream.
const LENGTH: u64 = 40 << 20;

fn pattern() -> Box<dyn Read> {
    Box::new(std::io::repeat(0x5a).take(LENGTH))
}

fn photo() -> PhotoRef {
    let (sha256, bytes) = Digest::of_reader(&mut pattern()).unwrap();
    PhotoRef { sha256, bytes, media_type: "image/jpeg".into() }
}

fn contents(open: fn() -> Box<dyn Read>) -> PacketContents<'static> {
    let log = LogId::parse("shop/job/device").unwrap();
    let moment = Moment { wall: "2031-04-05T14:03:07.250Z".into(), elapsed_ms: 0, boot: "b".into() };
    let (photos, withheld, others) = (vec![photo()], vec![("note".to_owned(), json!("x"))], BTreeMap::new());
    let new = NewRecord { kind: "photo_kept".into(), moment, others, photos, body: json!({}), withheld };
    let sealed = seal(&log, &LogHead::default(), new, &mut || [1; 16]).unwrap();
    let key = DeviceKey::from_seed([1; 32]);
    let checkpoint = Checkpoint { origin: log.origin(), size: 1, root: tree::root(&[sealed.leaf]) };
    let logs = vec![PacketLog {
        records: vec![sealed.bytes].into(),
        checkpoints: vec![key.sign(&checkpoint)],
        public_key_pem: key.public_pem().unwrap(),
        timestamps: Vec::new(),
        signatures: Vec::new(),
    }];
    let photos = vec![PacketPhoto { photo: photo(), open: Box::new(move || Ok(open())) }];
    PacketContents {
        logs,
        disclosures: sealed.disclosures,
        photos,
        language: Language::En,
        ..PacketContents::default()
    }
}

fn write(contents: &PacketContents<'_>) -> Result<Vec<u8>, EvidenceError> {
    let mut out = Cursor::new(Vec::new());
    packet::write(contents, &mut out, &mut |_| ControlFlow::Continue(()))?;
    Ok(out.into_inner())
}

#[test]
fn a_long_photo_is_streamed_and_one_changed_byte_in_it_is_named() {
    let mut bytes = write(&contents(pattern)).unwrap();
    for threads in [None, Some(1), Some(2)] {
        let options = Options { threads, ..Options::default() };
        let mut done = Vec::new();
        let verdict = packet::verify(&mut Cursor::new(&bytes), &options, &mut |progress| {
            done.push(progress.done);
            ControlFlow::Continue(())
        });
        assert!(verdict.unwrap().good);
        assert!(done.is_sorted() && done.last() > Some(&LENGTH));
    }
    *bytes.get_mut(30_000_000).unwrap() ^= 1;
    let verdict =
        packet::verify(&mut Cursor::new(&bytes), &Options::default(), &mut |_| ControlFlow::Continue(()));
    let place = verdict.unwrap().problems.first().and_then(|problem| problem.place.clone());
    assert_eq!(place, Some(format!("data/photos/{}.jpg", photo().sha256)));
}

#[test]
fn a_photo_that_changed_on_disk_stops_the_writer() {
    let changed: [fn() -> Box<dyn Read>; 3] = [
        || Box::new(std::io::repeat(0x5b).take(LENGTH)),
        || Box::new(std::io::repeat(0x5a).take(LENGTH - 1)),
        || Box::new(std::io::repeat(0x5a)),
    ];
    for open in changed {
        assert!(matches!(write(&contents(open)), Err(EvidenceError::PhotoChanged(_))));
    }
}

#[test]
fn what_no_record_speaks_for_stays_out() {
    let mut other = contents(pattern);
    other.reports = vec![PacketReport { name: "findings.pdf".into(), bytes: b"%PDF-".to_vec() }];
    assert!(matches!(write(&other), Err(EvidenceError::BadContents(_))));
    let mut other = contents(pattern);
    other.disclosures = vec![evidence::Disclosure::new([2; 16], "note", json!("y")).unwrap()];
    assert!(matches!(write(&other), Err(EvidenceError::BadContents(_))));
    let mut other = contents(pattern);
    other.photos.iter_mut().for_each(|photo| photo.photo.media_type = "image/png".into());
    assert!(matches!(write(&other), Err(EvidenceError::BadContents(_))));
    let mut other = contents(pattern);
    other.logs.iter_mut().for_each(|log| log.checkpoints.clear());
    assert!(matches!(write(&other), Err(EvidenceError::BadContents(_))));
}

#[test]
fn both_stop_when_asked() {
    let mut stop = |_| ControlFlow::Break(());
    let mut out = Cursor::new(Vec::new());
    let written = packet::write(&contents(pattern), &mut out, &mut stop);
    assert!(matches!(written, Err(EvidenceError::Cancelled)));
    let bytes = write(&contents(pattern)).unwrap();
    let verdict = packet::verify(&mut Cursor::new(bytes), &Options::default(), &mut stop);
    assert!(matches!(verdict, Err(EvidenceError::Cancelled)));
}

#[test]
fn what_is_no_packet_could_not_be_read() {
    for bytes in [&b""[..], b"PK", b"hello, this is a letter and no packet at all"] {
        let verdict =
            packet::verify(&mut Cursor::new(bytes), &Options::default(), &mut |_| ControlFlow::Continue(()));
        assert!(matches!(verdict, Err(EvidenceError::NotAPacket(_))));
    }
}
