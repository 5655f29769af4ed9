//! Every key that is asked for is in the catalogue, and every key in the catalogue is asked for: read from the sources.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::string_slice)] // Helpers outside `#[test]` may panic here too.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use words::{Catalogue, Language};

/// Where words are asked for.
const ASKING: [&str; 6] = [
    "ui/src",
    "src-tauri/crates/api/src",
    "src-tauri/crates/cli/src",
    "src-tauri/crates/report/src",
    "src-tauri/crates/words/en",
    "src-tauri/src",
];
/// Where the codes come from that name the members of a family (`station_` + `intake`).
const CODES: [&str; 3] = ["ui/src", "src-tauri/crates", "src-tauri/src"];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().nth(3).unwrap().to_owned()
}

/// Sources below a folder by path, without what is generated from the catalogue and without the catalogue's own tests.
fn sources(folders: &[&str]) -> BTreeMap<PathBuf, String> {
    let mut found = BTreeMap::new();
    let mut left: Vec<PathBuf> = folders.iter().map(|folder| root().join(folder)).collect();
    while let Some(path) = left.pop() {
        if path.is_dir() {
            left.extend(std::fs::read_dir(&path).unwrap().map(|entry| entry.unwrap().path()));
            continue;
        }
        let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or_default();
        let ours = path.ends_with("bindings/WordKey.ts")
            || path.starts_with(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests"));
        if ["rs", "ts", "svelte", "json", "ftl"].contains(&ending) && !ours {
            found.insert(path.clone(), std::fs::read_to_string(&path).unwrap());
        }
    }
    found
}

/// Every text in quotes of one kind on one line, in a source.
fn quoted(source: &str) -> BTreeSet<&str> {
    let mut found = BTreeSet::new();
    for quote in ['\'', '"', '`'] {
        for line in source.lines() {
            found.extend(
                line.split(quote).filter(|part| !part.is_empty() && part.len() < 80 && is_code(part)),
            );
        }
    }
    found
}

fn is_code(text: &str) -> bool {
    text.chars().all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-')
}

/// Families of keys that are asked for by a prefix and a code: `sayCode('error', …)`, `code("unit", …)`,
/// `` `notice_${…}` ``, `format!("line_{…}")`.
fn families(sources: &BTreeMap<PathBuf, String>) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for source in sources.values() {
        for asked in ["sayCode(", ".code(", ".code_of(", " code("] {
            for rest in source.split(asked).skip(1) {
                // All names in quotes before the first comma outside of them: `cond ? 'ground_for' : 'ground_against'`.
                let first =
                    rest.split([',', ')', ';']).find(|part| part.contains(['\'', '"'])).unwrap_or_default();
                found.extend(quoted(first).into_iter().map(|name| format!("{name}_")));
            }
        }
        for (before, after) in
            source.match_indices("_{").chain(source.match_indices("_${")).map(|(at, _)| source.split_at(at))
        {
            let name =
                before.rsplit(|c: char| !(c.is_ascii_lowercase() || c == '_')).next().unwrap_or_default();
            let opened = before[..before.len() - name.len()].ends_with(['"', '`']);
            if opened && !name.is_empty() && !after.is_empty() {
                found.insert(format!("{name}_"));
            }
        }
    }
    found
}

/// `CauseCalled` → `cause_called`.
fn snake(name: &str) -> String {
    let mut out = String::new();
    for (place, letter) in name.chars().enumerate() {
        if letter.is_ascii_uppercase() && place > 0 {
            out.push('_');
        }
        out.push(letter.to_ascii_lowercase());
    }
    out
}

/// Every code there is: what stands in quotes, names of fields, variants of enums in snake case.
fn codes(sources: &BTreeMap<PathBuf, String>) -> BTreeSet<String> {
    let mut found = BTreeSet::from(["unexpected".to_owned()]);
    for source in sources.values() {
        for word in source.split(|c: char| !(c.is_ascii_alphanumeric() || c == '_' || c == '-')) {
            found.insert(word.replace('-', "_"));
            if word.starts_with(|first: char| first.is_ascii_uppercase()) {
                found.insert(snake(word));
            }
        }
    }
    found
}

#[test]
fn every_key_is_asked_for() {
    let asking = sources(&ASKING);
    assert!(asking.len() > 150, "the sources were not read: {} files", asking.len());
    let mut asked: BTreeSet<&str> = asking.values().flat_map(|source| quoted(source)).collect();
    // A text that takes another one over asks for it.
    for (path, source) in &asking {
        if path.extension().is_some_and(|ending| ending == "ftl") {
            asked.extend(
                source
                    .split('{')
                    .skip(1)
                    .filter_map(|rest| rest.split_once('}'))
                    .map(|(name, _)| name.trim()),
            );
        }
    }
    let families = families(&asking);
    let codes = codes(&sources(&CODES));
    let of_family = |key: &str| {
        families.iter().any(|family| {
            let rest = key.strip_prefix(family.as_str());
            rest.is_some_and(|code| code_known(&codes, family, code))
        })
    };
    let unused: Vec<&str> = Catalogue::of(Language::English)
        .keys()
        .filter(|key| {
            // The report asks for `x` and gets `report_x` where there is one; a heading of its page is a bare name.
            let names = [
                *key,
                key.trim_start_matches("report_"),
                key.trim_start_matches("label_"),
                // What to do about a notice is asked for with its code.
                key.trim_end_matches("_remedy"),
            ];
            !names.iter().any(|name| asked.contains(name) || of_family(name))
        })
        .collect();
    assert!(unused.is_empty(), "nobody asks for: {unused:#?}");
}

/// A code; also two of them, where a key is made of two: `restore_as` + `same_device` + `detail`.
fn code_known(codes: &BTreeSet<String>, family: &str, code: &str) -> bool {
    let two = |(at, _): (usize, &str)| codes.contains(&code[..at]) && codes.contains(&code[at + 1..]);
    let of_two =
        ["value_", "restore_as_", "recipient_", "slot_", "everyday_", "report_form_"].contains(&family);
    // What circuit files name in English; the report's own test holds these keys against them.
    family == "limit_" || codes.contains(code) || (of_two && code.match_indices('_').any(two))
}

/// The screens' keys are checked by their type; here are those of the Rust sources.
#[test]
fn every_key_that_rust_asks_for_is_there() {
    let catalogue = Catalogue::of(Language::English);
    let mut seen = 0;
    for (path, source) in
        sources(&["src-tauri/crates/report/src", "src-tauri/crates/cli/src", "src-tauri/crates/api/src"])
    {
        let source = source.split("#[cfg(test)]").next().unwrap_or_default();
        for asked in ["say(", "say_if(", "say_count(", "share("] {
            for rest in source.split(&format!(".{asked}")).chain(source.split(&format!(":{asked}"))).skip(1) {
                let rest = rest.trim_start();
                let rest = rest
                    .split_once("language, ")
                    .filter(|(before, _)| before.len() < 12)
                    .map_or(rest, |(_, rest)| rest);
                let Some((key, _)) = rest.strip_prefix('"').and_then(|rest| rest.split_once('"')) else {
                    continue;
                };
                seen += 1;
                assert!(
                    catalogue.has(key) || catalogue.has(&format!("report_{key}")),
                    "{} asks for {key}",
                    path.display()
                );
            }
        }
    }
    assert!(seen > 60, "the sources were not read: {seen} keys");
}

#[test]
fn a_key_nobody_asks_for_would_be_found() {
    let codes = codes(&BTreeMap::from([(
        PathBuf::from("a.rs"),
        "enum A { CauseCalled } let b = \"mi\";".to_owned(),
    )]));
    assert!(["cause_called", "mi"].iter().all(|code| code_known(&codes, "unit_", code)));
    assert!(!code_known(&codes, "unit_", "nobody_sends_this") && !code_known(&codes, "unit_", "enum_mi"));
    let source =
        "say('kept_at'); sayCode(up ? 'ground_for' : 'ground_against', w); `slot_${x}`; code(\"unit\", u)";
    let one = BTreeMap::from([(PathBuf::from("a.ts"), source.to_owned())]);
    assert!(quoted(source).contains("kept_at"));
    let families = families(&one);
    for family in ["ground_for_", "ground_against_", "slot_", "unit_"] {
        assert!(families.contains(family), "{family} in {families:?}");
    }
}
