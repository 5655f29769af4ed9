//! Runs ngspice, our reference for linear circuits. It must be installed (`apt-get install ngspice`).

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::process::Command;
use std::sync::atomic::{AtomicU32, Ordering};

static DECKS: AtomicU32 = AtomicU32::new(0);

/// Solves element lines and returns volts by node name. Every node gets 1 Tohm to ground, so that a part of the
/// circuit that floats doesn't stop ngspice.
pub fn solve(elements: &str) -> BTreeMap<String, f64> {
    let control = ".options rshunt=1e12\n.control\nset numdgt=10\nop\nprint all\nquit\n.endc\n.end\n";
    run(&format!("* check\n{elements}\n{control}"))
}

/// Runs a whole deck as it is.
pub fn run(deck_text: &str) -> BTreeMap<String, f64> {
    let number = DECKS.fetch_add(1, Ordering::Relaxed);
    let deck: PathBuf =
        std::env::temp_dir().join(format!("circuit-check-{}-{number}.cir", std::process::id()));
    std::fs::write(&deck, deck_text).unwrap();
    let run = Command::new("ngspice").arg("-b").arg(&deck).output();
    let run =
        run.expect("ngspice is missing: install it with `apt-get install ngspice`, then run this again");
    std::fs::remove_file(&deck).unwrap();
    let text = String::from_utf8_lossy(&run.stdout).into_owned();
    let volts: BTreeMap<String, f64> = text
        .lines()
        .filter_map(|line| line.split_once(" = "))
        .filter_map(|(name, value)| Some((name.trim().to_lowercase(), value.trim().parse().ok()?)))
        .collect();
    assert!(!volts.is_empty(), "ngspice printed no volts:\n{text}\n{}", String::from_utf8_lossy(&run.stderr));
    volts
}

/// Agreement asked for: within 1 mV or 0.1 %.
pub fn agrees(ours: f64, theirs: f64) -> bool {
    (ours - theirs).abs() <= (0.001 * theirs.abs()).max(1e-3)
}
