//! A log longer than what is held at once: read from elsewhere by the writer, in several batches by the verifier.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // Helpers outside `#[test]` may panic here too.

use std::cell::Cell;
use std::collections::BTreeMap;
use std::io::Cursor;
use std::ops::ControlFlow;

use evidence::packet::{self, Code, Options, PacketContents, PacketLog, Records, Verdict};
use evidence::{Checkpoint, DeviceKey, Digest, EvidenceError, LogHead, LogId, Moment, NewRecord, seal, tree};
use serde_json::json;

/// More than the verifier loads before it hashes, so that it comes back for more.
const COUNT: u64 = 4_500;

fn log() -> LogId {
    LogId::parse("shop/job/device").unwrap()
}

fn sealed() -> Vec<Vec<u8>> {
    let (mut head, mut records) = (LogHead::default(), Vec::new());
    for number in 0..COUNT {
        let wall = format!("2031-04-05T{:02}:{:02}:07.250Z", number / 60 % 24, number % 60);
        let boot = format!("boot-{}", number / 1440);
        let new = NewRecord {
            kind: "reading".into(),
            moment: Moment { wall, elapsed_ms: number % 1440 * 60_000, boot },
            others: BTreeMap::from([("tablet".to_owned(), Digest::of(b"x"))]),
            photos: Vec::new(),
            body: json!({ "value": "12.55 V", "place": number }),
            withheld: Vec::new(),
        };
        let next = seal(&log(), &head, new, &mut || [1; 16]).unwrap();
        head = next.head();
        records.push(next.bytes);
    }
    records
}

fn contents<'a>(held: &[Vec<u8>], records: Records<'a>) -> PacketContents<'a> {
    let leaves: Vec<_> = held.iter().map(|record| tree::leaf(record)).collect();
    let key = DeviceKey::from_seed([1; 32]);
    let checkpoint = Checkpoint { origin: log().origin(), size: COUNT, root: tree::root(&leaves) };
    let (checkpoints, public_key_pem) = (vec![key.sign(&checkpoint)], key.public_pem().unwrap());
    let log =
        PacketLog { records, checkpoints, public_key_pem, timestamps: Vec::new(), signatures: Vec::new() };
    PacketContents { logs: vec![log], ..PacketContents::default() }
}

fn write(contents: &PacketContents<'_>) -> Result<Vec<u8>, EvidenceError> {
    let mut out = Cursor::new(Vec::new());
    let length = packet::write(contents, &mut out, &mut |_| ControlFlow::Continue(()))?;
    assert_eq!(length, out.get_ref().len() as u64);
    Ok(out.into_inner())
}

fn verdict(packet: &[u8], threads: usize) -> Verdict {
    let options = Options { threads: Some(threads), ..Options::default() };
    packet::verify(&mut Cursor::new(packet), &options, &mut |_| ControlFlow::Continue(())).unwrap()
}

#[test]
fn it_makes_no_difference_where_the_records_lie_and_how_many_threads_hash() {
    let held = sealed();
    let packet = write(&contents(&held, held.clone().into())).unwrap();
    let elsewhere = Records::read_by(|visit| held.iter().try_for_each(|record| visit(&record.clone())));
    assert!(write(&contents(&held, elsewhere)).unwrap() == packet);
    let (alone, together) = (verdict(&packet, 1), verdict(&packet, 2));
    assert!(alone.good, "{:#?}", alone.problems);
    assert_eq!((alone.logs[0].records, &alone), (COUNT, &together));

    // A value in a record of the last batch: its file is named, and the next record no longer follows.
    let (text, mut changed) = (&held[4321], packet);
    let find =
        |within: &[u8], what: &[u8]| within.windows(what.len()).position(|bytes| bytes == what).unwrap();
    let at = find(&changed, text) + find(text, b"12.55 V");
    changed[at + 1] ^= 1;
    let verdict = verdict(&changed, 2);
    let place = |number| Some(format!("data/logs/device/records/{number:06}.json"));
    let named = |code, place| verdict.problems.iter().any(|one| one.code == code && one.place == place);
    assert!(named(Code::Manifest, place(4321)), "{:#?}", verdict.problems);
    assert!(named(Code::Chain, place(4322)), "{:#?}", verdict.problems);
}

#[test]
fn records_that_are_others_at_the_second_reading_stop_the_writer() {
    let held = sealed();
    let changes: [fn(&mut Vec<Vec<u8>>); 4] = [
        |records| records[4321].push(b' '),
        |records| records.swap(7, 8),
        |records| drop(records.pop()),
        |records| records.push(b"{}".to_vec()),
    ];
    for change in changes {
        let times = Cell::new(0);
        let read = |visit: &mut packet::Visit<'_>| {
            let mut records = held.clone();
            if times.replace(times.get() + 1) > 0 {
                change(&mut records);
            }
            records.iter().try_for_each(|record| visit(record))
        };
        let written = write(&contents(&held, Records::read_by(read)));
        assert!(matches!(written, Err(EvidenceError::BadContents(_))), "{written:?}");
        assert_eq!(times.get(), 2);
    }
}

#[test]
fn what_the_source_says_is_what_the_writer_says() {
    let held = sealed();
    let gone = Records::read_by(|_| Err(std::io::Error::from(std::io::ErrorKind::NotFound).into()));
    assert!(matches!(write(&contents(&held, gone)), Err(EvidenceError::Io(_))));
}
