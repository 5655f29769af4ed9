//! `kill -9` at random moments, 1,000 in the full run: nothing acknowledged may be missing afterwards, neither from the
//! folder nor from the journals alone.

use std::hash::{BuildHasher, RandomState};
use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

use store::{OpenOptions, Store};

use crate::programs::{KEEPER, run_well};
use crate::sample::Kept;
use crate::sound::{all_kept, all_kept_without_database};

/// Kills in one folder, each after a start on what the last one left.
const IN_ONE_FOLDER: usize = 20;
/// Folders at once.
const AT_ONCE: usize = 4;

#[test]
fn nothing_acknowledged_is_lost_in_kills() {
    let rounds = if std::env::var_os("TESTIMETER_FULL").is_some() { 50 } else { 1 };
    let next = AtomicUsize::new(0);
    // Most of a kill's time is waiting: several folders at once.
    std::thread::scope(|threads| {
        for _ in 0..AT_ONCE.min(rounds) {
            threads.spawn(|| {
                while next.fetch_add(1, Ordering::Relaxed) < rounds {
                    survives_kills();
                }
            });
        }
    });
}

fn survives_kills() {
    let folder = tempfile::tempdir().unwrap();
    let mut kept = Vec::new();
    for number in 0..IN_ONE_FOLDER {
        let chance = RandomState::new().hash_one(number);
        let after = Duration::from_micros(chance % 60_000);
        // Every other kill may also strike while the folder is being opened.
        kept.extend(killed(folder.path(), number % 2 == 0, after, 500 + chance % 60_000));
        let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
        all_kept(&store, &kept).unwrap_or_else(|why| panic!("kill {number} after {after:?}: {why}"));
    }
    assert!(kept.len() >= IN_ONE_FOLDER / 2, "only {} records were kept", kept.len());
    let clean = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    assert_eq!(clean.notices(), [], "the start after a clean one still finds something");
    drop(clean);
    outside_programs_agree(folder.path(), &kept);
    all_kept_without_database(folder.path(), &kept).unwrap();
}

/// Runs the keeper on the folder and kills it, at once or after its first acknowledgement and so long; returns what
/// it acknowledged in whole lines.
fn killed(folder: &Path, once_keeping: bool, after: Duration, photo_bytes: u64) -> Vec<Kept> {
    let mut command = Command::new(KEEPER);
    command.arg("keep").arg(folder).args(["1000000", &photo_bytes.to_string()]);
    let mut keeper = command.stdout(Stdio::piped()).spawn().unwrap();
    let (mut said, mut output) = (String::new(), BufReader::new(keeper.stdout.take().unwrap()));
    if once_keeping {
        output.read_line(&mut said).unwrap();
    }
    std::thread::sleep(after);
    keeper.kill().unwrap();
    keeper.wait().unwrap();
    output.read_to_string(&mut said).unwrap();
    said.split_inclusive('\n').filter_map(Kept::read).collect()
}

/// SQLite's own shell finds the file sound, and `sha256sum` finds every photo under its hash.
fn outside_programs_agree(folder: &Path, kept: &[Kept]) {
    let database = folder.join("testimeter.sqlite").display().to_string();
    assert_eq!(run_well("sqlite3", &[&database, "PRAGMA integrity_check"]).trim(), "ok");
    assert_eq!(run_well("sqlite3", &[&database, "PRAGMA foreign_key_check"]).trim(), "");
    let find = "find \"$0\" -type f -exec sha256sum {} +";
    let sums = run_well("sh", &["-c", find, &folder.join("originals").display().to_string()]);
    for line in sums.lines() {
        let (sum, path) = line.split_once("  ").unwrap();
        assert_eq!(Path::new(path).file_stem().unwrap(), sum, "{path}");
    }
    assert!(sums.lines().count() >= kept.len());
}
