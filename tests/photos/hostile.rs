//! Thousands of damaged pictures: an answer or an error each time, never a panic.

use crate::samples;
use chrono::Utc;
use photo::{for_report, inspect, preview};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};
use tempfile::tempdir;

/// xorshift64*, so that a failing seed can be tried again.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33) as usize % limit.max(1)
    }
}

/// Flips, overwrites, cuts out and repeats a few stretches; most land in the headers, where the danger is.
fn damage(whole: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = whole.to_vec();
    for _ in 0..=dice.below(6) {
        let reach = if dice.below(3) > 0 { bytes.len().min(700) } else { bytes.len() };
        let at = dice.below(reach);
        match dice.below(5) {
            0 => bytes[at] ^= 1 << dice.below(8),
            1 => bytes[at] = [0x00, 0xFF, 0x7F, 0x80][dice.below(4)],
            2 => bytes[at] = dice.below(256) as u8,
            3 => drop(bytes.drain(at..(at + dice.below(40)).min(reach))),
            _ => {
                let copy = bytes[at..(at + dice.below(60)).min(reach)].to_vec();
                bytes.splice(at..at, copy);
            }
        }
        if bytes.is_empty() {
            return bytes;
        }
    }
    bytes
}

#[test]
fn no_damage_makes_it_panic() {
    let folder = tempdir().unwrap();
    let (mut answers, mut refusals) = (0, 0);
    for path in samples::each_kind(&folder) {
        let whole = samples::bytes(&path);
        for seed in 1..=1500_u64 {
            let bytes = damage(&whole, &mut Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15)));
            let start = Instant::now();
            let result = catch_unwind(AssertUnwindSafe(|| {
                let facts = inspect(&bytes, Utc::now());
                let small = preview(&bytes, 40);
                let large = for_report(&bytes, 5000, 90);
                (facts.is_ok(), small.is_ok() || large.is_ok())
            }));
            let (_, shown) = result.unwrap_or_else(|_| panic!("{} seed {seed} panics", path.display()));
            assert!(
                start.elapsed() < Duration::from_secs(20),
                "{} seed {seed} takes too long",
                path.display()
            );
            if shown { answers += 1 } else { refusals += 1 }
        }
    }
    // Both outcomes occur often, so the damage is neither harmless nor total.
    assert!(answers > 300 && refusals > 300, "{answers} shown, {refusals} refused");
}
