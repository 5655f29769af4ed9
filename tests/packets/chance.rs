//! Bytes changed at random places: each must be refused, with the file named that owns it.

use std::ops::ControlFlow;
use std::process::Command;

use evidence::EvidenceError;
use evidence::packet::{self, Options};

use crate::folder::{Folder, ranges, run};
use crate::sample::{Chance, Sample, verdict};

/// 500 changes, or 10,000 with TESTIMETER_FULL=1: two thirds of them one byte, whose file must be named; the others
/// bytes taken out, put in, doubled, exchanged with others, or cut off.
#[test]
fn every_change_is_refused_and_the_file_of_a_changed_byte_named() {
    let full = std::env::var("TESTIMETER_FULL").is_ok_and(|value| value == "1");
    for (seed, packet) in [(7, Sample::new().whole()), (17, Sample::rich().whole())] {
        let (mut packet, files) = (packet.clone(), ranges(&Folder::of(&packet).zip()));
        let mut chance = Chance(seed);
        for number in 0..if full { 5000 } else { 250 } {
            if number % 3 < 2 {
                let at = chance.below(packet.len() as u64);
                check(&mut packet, at, 1 + chance.below(255) as u8, &files);
            } else {
                let changed = rearranged(&packet, &mut chance);
                assert!(refused(&changed), "change {number} of seed {seed}");
            }
        }
    }
}

/// The packet with something taken out, put in, doubled, exchanged or cut off.
fn rearranged(packet: &[u8], chance: &mut Chance) -> Vec<u8> {
    let mut place = || chance.below(packet.len() as u64) as usize;
    let (one, other) = (place(), place());
    let (from, to) = (one.min(other), one.max(other) + 1);
    let kind = chance.below(5);
    let changed = match kind {
        0 => [&packet[..from], &packet[to..]].concat(),
        1 => [&packet[..from], &chance.bytes(1 + (to - from) % 300), &packet[from..]].concat(),
        2 => [&packet[..to], &packet[from..]].concat(),
        3 => [&packet[to..], &packet[from..to], &packet[..from]].concat(),
        _ => packet[..from].to_vec(),
    };
    // Two equal pieces exchanged are no change.
    if changed == packet { packet[1..].to_vec() } else { changed }
}

/// Bad, or no packet at all.
fn refused(packet: &[u8]) -> bool {
    let mut reader = std::io::Cursor::new(packet);
    match packet::verify(&mut reader, &Options::default(), &mut |_| ControlFlow::Continue(())) {
        Ok(verdict) => !verdict.good,
        Err(cause) => matches!(cause, EvidenceError::NotAPacket(_)),
    }
}

/// Random places fall into photos mostly; this one visits each file and the headers around it.
#[test]
fn a_changed_byte_in_each_file_and_each_header_is_refused() {
    let mut packet = Sample::new().whole();
    let files = ranges(&Folder::of(&packet).zip());
    let mut chance = Chance(8);
    for (_, start, length) in &files {
        check(&mut packet, start + chance.below(*length), 1 + chance.below(255) as u8, &files);
        check(&mut packet, start + length - 1, 0x20, &files);
        check(&mut packet, start - 1 - chance.below(30), 1 + chance.below(255) as u8, &files);
    }
    let end = packet.len() as u64;
    for at in end - 200..end {
        check(&mut packet, at, 1, &files);
    }
}

#[test]
fn a_byte_more_or_less_anywhere_is_refused() {
    let packet = Sample::new().whole();
    let mut chance = Chance(9);
    for _ in 0..40 {
        let at = chance.below(packet.len() as u64) as usize;
        let longer = [&packet[..at], &[chance.next() as u8], &packet[at..]].concat();
        let shorter = [&packet[..at], &packet[at + 1..]].concat();
        assert!(!verdict(&longer).good && !verdict(&shorter).good, "at {at}");
    }
    assert!(!verdict(&[&packet[..], b"\0"].concat()).good);
}

#[test]
fn the_script_refuses_changed_bytes_too() {
    let packet = Sample::new().whole();
    let folder = Folder::of(&packet);
    let (mut chance, changed) = (Chance(10), folder.file("../changed.zip"));
    for (path, start, length) in ranges(&folder.zip()).into_iter().step_by(6) {
        let mut other = packet.clone();
        other[(start + chance.below(length)) as usize] ^= 1;
        std::fs::write(&changed, other).unwrap();
        let out = run(Command::new("sh").arg(folder.file("data/verify.sh")).arg(&changed));
        assert_ne!(out.status.code(), Some(0), "{path}");
    }
}

fn check(packet: &mut [u8], at: u64, change: u8, files: &[(String, u64, u64)]) {
    packet[at as usize] ^= change;
    let verdict = verdict(packet);
    packet[at as usize] ^= change;
    let owner = files.iter().find(|(_, start, length)| (*start..start + length).contains(&at));
    let wanted = owner.map_or("container", |(path, ..)| path);
    assert!(!verdict.good, "byte {at} of {wanted} changed by {change}");
    let places: Vec<_> = verdict.problems.iter().map(|problem| problem.place.as_deref().unwrap()).collect();
    assert_eq!(places.first(), Some(&wanted), "byte {at} changed by {change}: {:#?}", verdict.problems);
}
