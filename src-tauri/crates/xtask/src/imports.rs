//! What each room must not know, checked against cargo's own dependency trees.
use std::collections::BTreeSet;

use crate::error::Error;
use crate::program::Program;
use crate::step::Outcome;
use crate::tree;

/// A room and the packages that must not be anywhere below it.
struct Absence {
    room: &'static str,
    never: &'static [&'static [&'static str]],
}

/// Rooms that import no sibling; none of them has words, and words know none of them.
const LEAVES: &[&str] = &["authority", "circuit", "evidence", "money", "photo", "words"];
const ABOVE_JOB: &[&str] = &["store", "report", "api", "demo", "cli", "testimeter-app"];
const WINDOW: &[&str] = &["tauri", "wry"];
const DATABASE: &[&str] = &["rusqlite", "libsqlite3-sys"];
const PICTURES: &[&str] = &["image", "kamadak-exif"];
const CHANCE: &[&str] = &["rand", "uuid"];
const PAGES: &[&str] = &["typst", "typst-pdf"];
const NETWORK: &[&str] = &["ureq", "rustls"];

const ABSENCES: &[Absence] = &[
    Absence {
        room: "circuit",
        never: &[LEAVES, &["job", "chrono"], ABOVE_JOB, WINDOW, DATABASE, PICTURES, CHANCE, PAGES, NETWORK],
    },
    Absence {
        room: "drawing",
        never: &[
            &["authority", "evidence", "money", "photo", "words", "job", "chrono"],
            ABOVE_JOB,
            WINDOW,
            DATABASE,
            PICTURES,
            CHANCE,
            PAGES,
            NETWORK,
        ],
    },
    Absence {
        room: "money",
        never: &[LEAVES, &["job", "chrono"], ABOVE_JOB, WINDOW, DATABASE, PICTURES, CHANCE, PAGES, NETWORK],
    },
    Absence { room: "authority", never: &[LEAVES, &["job"], ABOVE_JOB, WINDOW, DATABASE, PICTURES, PAGES] },
    Absence {
        room: "evidence",
        never: &[LEAVES, &["job"], ABOVE_JOB, WINDOW, DATABASE, PICTURES, PAGES, NETWORK],
    },
    Absence { room: "photo", never: &[LEAVES, &["job"], ABOVE_JOB, WINDOW, DATABASE, PAGES, NETWORK] },
    Absence {
        room: "words",
        never: &[LEAVES, &["job", "chrono"], ABOVE_JOB, WINDOW, DATABASE, PICTURES, CHANCE, PAGES, NETWORK],
    },
    Absence { room: "job", never: &[&["authority", "words"], ABOVE_JOB, WINDOW, DATABASE, PAGES, NETWORK] },
    Absence { room: "store", never: &[&["report", "api", "cli", "testimeter-app"], WINDOW, PAGES, NETWORK] },
    Absence {
        room: "report",
        never: &[&["store", "api", "cli", "testimeter-app"], WINDOW, DATABASE, NETWORK],
    },
    Absence { room: "api", never: &[&["demo", "cli", "testimeter-app"], WINDOW] },
    Absence { room: "demo", never: &[&["cli", "testimeter-app"], WINDOW] },
    Absence { room: "cli", never: &[&["testimeter-app"], WINDOW] },
];

/// Rooms that are told the time and never ask for it: chrono's clock stays off below them. A library that asks for it to stamp
/// its own results, which nobody reads, is named beside its room; the room's own lints forbid asking.
const TIMELESS: &[(&str, &[&str])] = &[("evidence", &[]), ("job", &[]), ("photo", &["rxing"])];

pub fn check() -> Result<Outcome, Error> {
    let mut wrong = Vec::new();
    for absence in ABSENCES {
        wrong.extend(seen(absence, &below(absence.room)?));
    }
    for (room, stamping) in TIMELESS {
        if features(room, stamping)?.contains("chrono feature \"clock\"") {
            wrong.push(format!("{room} can read the clock (chrono's feature `clock`)"));
        }
    }
    wrong.extend(verify_knows_more_than_evidence());
    Ok(if wrong.is_empty() { Outcome::Passed } else { Outcome::Failed(wrong.join("; ")) })
}

fn seen(absence: &Absence, below: &BTreeSet<String>) -> Vec<String> {
    let forbidden = absence.never.iter().copied().flatten().filter(|name| **name != absence.room);
    let found = forbidden.filter(|name| below.contains(**name));
    found.map(|name| format!("{} must not know {name}", absence.room)).collect()
}

/// The names of all packages that a room is built from, on any system.
fn below(room: &str) -> Result<BTreeSet<String>, Error> {
    let words =
        ["cargo", "tree", "--package", room, "--edges", "normal", "--target", "all", "--prefix", "none"];
    let listed = Program::new(&words).output()?;
    Ok(listed.lines().filter_map(|line| line.split(' ').next()).map(str::to_owned).collect())
}

fn features(room: &str, without: &[&str]) -> Result<String, Error> {
    let mut words = vec!["cargo", "tree", "--package", room, "--edges", "normal,features", "--target", "all"];
    words.extend(without.iter().flat_map(|library| ["--prune", library]));
    Program::new(&words).output()
}

/// Cargo sees one crate; that its `verify` stands on evidence alone shows only in its source.
fn verify_knows_more_than_evidence() -> Option<String> {
    let rooms = ["api", "circuit", "job", "money", "photo", "report", "store"];
    ["verify.rs", "remembered.rs", "verdict_words.rs", "verdict_words_en.rs", "verdict_words_es.rs"]
        .iter()
        .find_map(|file| {
            let source = tree::root().join("src-tauri/crates/cli/src").join(file);
            let Ok(text) = std::fs::read_to_string(&source) else {
                return Some(format!("{} is not where this check reads it", source.display()));
            };
            let named = rooms.iter().find(|room| text.contains(&format!("{room}::")))?;
            Some(format!("the command `verify` must stand on evidence alone, and {file} names {named}"))
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_forbidden_package_is_named_and_the_room_itself_is_not() {
        let absence = Absence { room: "money", never: &[LEAVES, DATABASE] };
        let below = ["money", "serde", "rusqlite"].map(str::to_owned).into();
        assert_eq!(seen(&absence, &below), ["money must not know rusqlite"]);
    }
}
