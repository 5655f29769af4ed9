//! A kind of record is described in one place and named in few: here is what has to be there for each, counted.

use job::event::DESCRIPTORS;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Kinds whose bodies `evidence` defines, because its verifier reads them.
const EVIDENCES: [&str; 4] = ["timestamp", "key_changed", "key_lost", "device_added"];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_owned()
}

fn files(folder: &str, ending: &str) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut left = vec![root().join(folder)];
    while let Some(path) = left.pop() {
        if path.is_dir() {
            left.extend(std::fs::read_dir(&path).unwrap().map(|entry| entry.unwrap().path()));
        } else if path.extension().is_some_and(|known| known == ending) {
            let text = std::fs::read_to_string(&path).unwrap();
            found.push((path, text));
        }
    }
    found
}

/// `part_received` as its Rust name: `PartReceived`.
fn type_name(kind: &str) -> String {
    kind.split('_')
        .map(|word| {
            let (first, rest) = word.split_at(1);
            first.to_uppercase() + rest
        })
        .collect()
}

/// The files that a new kind of record has to touch before it can be kept, told on the time-line and handed out. What it
/// gets beyond that (a rule, a page of the report, a screen) is its own matter.
fn has_to_be_in(kind: &str) -> BTreeSet<PathBuf> {
    let name = type_name(kind);
    let events = files("src-tauri/crates/job/src/event", "rs");
    let described = events.iter().filter(|(_, text)| {
        let text: String = text.split_whitespace().collect();
        text.contains(&format!("Descriptor::new(\"{kind}\","))
    });
    let listed = events
        .iter()
        .filter(|(path, text)| path.ends_with("event/mod.rs") && text.contains(&format!("    {name}(")));
    let folded = files("src-tauri/crates/job/src", "rs");
    let folded = folded
        .iter()
        .filter(|(path, text)| path.ends_with("fold.rs") && text.contains(&format!("Event::{name}(")));
    let samples = files("src-tauri/crates/api/src/act/tests", "rs");
    let samples = samples.iter().filter(|(_, text)| text.contains(&format!("Event::{name}(")));
    let mut found: BTreeSet<PathBuf> =
        described.chain(listed).chain(folded).chain(samples).map(|(path, _)| path.clone()).collect();
    for language in ["en", "es"] {
        let words = files(&format!("src-tauri/crates/words/{language}"), "ftl");
        let named = words.iter().find(|(_, text)| text.contains(&format!("\nevent_{kind} =")));
        found.insert(named.unwrap_or_else(|| panic!("{kind} has no name in {language}")).0.clone());
    }
    found
}

#[test]
fn a_new_kind_of_record_touches_at_most_eight_files() {
    for kind in DESCRIPTORS.iter().map(|descriptor| descriptor.kind) {
        let touched = has_to_be_in(kind);
        let least = if EVIDENCES.contains(&kind) { 5 } else { 6 };
        assert!((least..=8).contains(&touched.len()), "{kind}: {touched:#?}");
    }
}

#[test]
fn every_withheld_field_has_words_in_both_languages() {
    for language in ["en", "es"] {
        let words: String = files(&format!("src-tauri/crates/words/{language}"), "ftl")
            .into_iter()
            .map(|(_, text)| text)
            .collect();
        for descriptor in DESCRIPTORS {
            for field in descriptor.withheld() {
                let key = format!("value_{}_{field} =", descriptor.kind);
                assert!(words.contains(&key), "{language}: {key}");
            }
        }
    }
}

/// The table of commands in the api's documentation is the shell's list, command by command.
#[test]
fn the_table_of_commands_is_the_shells_own_list() {
    let table = std::fs::read_to_string(root().join("src-tauri/crates/api/src/lib.rs")).unwrap();
    let rows = table.lines().filter_map(|line| line.strip_prefix("//! | `"));
    let told: BTreeSet<String> = rows
        .flat_map(|row| row.split('|').next().unwrap().split(", "))
        .map(|name| name.trim().trim_matches('`').to_owned())
        .collect();
    let shell = std::fs::read_to_string(root().join("src-tauri/src/lib.rs")).unwrap();
    let commands = shell.lines().filter_map(|line| line.trim().strip_prefix("commands::"));
    let registered: BTreeSet<String> =
        commands.filter_map(|path| Some(path.split("::").nth(1)?.trim_end_matches(',').to_owned())).collect();
    assert!(registered.len() > 50);
    assert_eq!(told, registered);
}
