//! Bytes from strangers, changed at random from good ones: the same entries as the fuzzer's, with the compiler of the
//! other checks. `.ci/fuzz` goes further where it can.

use std::panic::{AssertUnwindSafe, catch_unwind};

use crate::rich::{root, stamped};
use crate::sample::{Chance, Sample};

#[path = "../../src-tauri/crates/evidence/fuzz/entries.rs"]
mod entries;

/// 300 changes of each seed, or 5,000 with TESTIMETER_FULL=1.
fn try_all(entry: fn(&[u8]), seeds: &[Vec<u8>], per_change: u64) {
    let full = std::env::var("TESTIMETER_FULL").is_ok_and(|value| value == "1");
    let mut chance = Chance(per_change);
    for seed in seeds {
        entry(seed);
        for _ in 0..if full { 5_000 } else { 300 } / per_change {
            let changed = changed(seed, &mut chance);
            let held = catch_unwind(AssertUnwindSafe(|| entry(&changed)));
            assert!(held.is_ok(), "{}", changed.iter().map(|byte| format!("{byte:02x}")).collect::<String>());
        }
    }
}

/// One to four small changes: bits, bytes, pieces taken out or doubled, numbers made extreme.
fn changed(seed: &[u8], chance: &mut Chance) -> Vec<u8> {
    let mut bytes = seed.to_vec();
    for _ in 0..=chance.below(4) {
        if bytes.is_empty() {
            return bytes;
        }
        let at = chance.below(bytes.len() as u64) as usize;
        let to = (at + 1 + chance.below(8) as usize).min(bytes.len());
        match chance.below(6) {
            0 => bytes[at] ^= 1 << chance.below(8),
            1 => bytes[at] = chance.next() as u8,
            2 => bytes[at] = [0, 0xff, 0x7f, 0x80][chance.below(4) as usize],
            3 => drop(bytes.drain(at..to)),
            4 => drop(bytes.splice(at..at, bytes[at..to].to_vec())),
            _ => bytes.truncate(at),
        }
    }
    bytes
}

#[test]
fn packets() {
    try_all(entries::packet, &[Sample::new().bare(), Sample::rich().whole()], 3);
}

#[test]
fn logs() {
    let lines =
        |sample: &Sample| sample.devices.iter().map(|device| device.records.join(&b'\n')).collect::<Vec<_>>();
    try_all(entries::log, &[lines(&Sample::rich()), lines(&Sample::new())].concat(), 2);
}

#[test]
fn records_and_disclosures() {
    let sample = Sample::rich();
    let device = sample.bench();
    let disclosures = device.disclosures.iter().map(|disclosure| disclosure.encoded().as_bytes().to_vec());
    try_all(entries::record, &device.records.iter().cloned().chain(disclosures).collect::<Vec<_>>(), 1);
}

#[test]
fn tokens_and_certificates() {
    let token = |name: &str| std::fs::read(stamped(&format!("{name}.tst"))).unwrap();
    let tokens = [token("tower-clock"), token("sun-dial")];
    let replies = tokens.iter().map(|token| crate::authority::granted(token));
    let roots = [root("tower-clock"), root("sun-dial")];
    try_all(entries::token, &tokens.iter().cloned().chain(replies).chain(roots).collect::<Vec<_>>(), 1);
}

#[test]
fn checkpoints() {
    let sample = Sample::rich();
    let signed = sample.bench().checkpoints.iter();
    let texts =
        signed.flat_map(|signed| [signed.note.clone().into_bytes(), signed.text.clone().into_bytes()]);
    try_all(entries::checkpoint, &texts.collect::<Vec<_>>(), 1);
}
