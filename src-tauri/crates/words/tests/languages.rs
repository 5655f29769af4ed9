//! The two languages say the same things: the same keys, the same places, nothing empty, nothing left in English.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::string_slice)] // Helpers outside `#[test]` may panic here too.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Text of each message of a language by key, as it stands in the files.
fn messages(code: &str) -> BTreeMap<String, String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(code);
    let mut found = BTreeMap::new();
    for entry in std::fs::read_dir(&folder).unwrap() {
        let text = std::fs::read_to_string(entry.unwrap().path()).unwrap();
        let mut key = String::new();
        for line in text.lines().filter(|line| !line.starts_with('#')) {
            match line.split_once(" = ").or_else(|| Some((line.strip_suffix(" =")?, ""))) {
                Some((name, rest)) if !line.starts_with([' ', '}']) => {
                    key = name.to_owned();
                    found.insert(key.clone(), rest.to_owned());
                }
                _ if !key.is_empty() => found.get_mut(&key).unwrap().push_str(&format!("\n{line}")),
                _ => {}
            }
        }
    }
    found
}

/// Names of the values a text takes (`$name`) and of the texts it takes over (`other_key`).
fn places(text: &str) -> BTreeSet<String> {
    let values = text.split('$').skip(1).map(|rest| {
        let end = rest.find(|c: char| !(c.is_ascii_alphanumeric() || c == '_')).unwrap_or(rest.len());
        format!("${}", &rest[..end])
    });
    let others =
        text.split('{').skip(1).filter_map(|rest| rest.split_once('}')).map(|(inside, _)| inside.trim());
    let others = others
        .filter(|inside| !inside.is_empty() && inside.chars().all(|c| c.is_ascii_lowercase() || c == '_'));
    values.chain(others.map(str::to_owned)).collect()
}

/// The choices of a text by anything but number: `[odometer]`. Those by number differ with the language's grammar.
fn choices(text: &str) -> BTreeSet<String> {
    let named =
        text.split('[').skip(1).filter_map(|rest| rest.split_once(']')).map(|(name, _)| name.to_owned());
    named.filter(|name| !["zero", "one", "two", "few", "many", "other"].contains(&name.as_str())).collect()
}

#[test]
fn both_have_the_same_keys_and_no_text_is_empty() {
    let (english, spanish) = (messages("en"), messages("es"));
    assert!(english.len() > 800, "the files were not read: {} messages", english.len());
    let only = |these: &BTreeMap<String, String>, those: &BTreeMap<String, String>| -> Vec<String> {
        these.keys().filter(|key| !those.contains_key(*key)).cloned().collect()
    };
    assert_eq!(only(&english, &spanish), Vec::<String>::new(), "only in English");
    assert_eq!(only(&spanish, &english), Vec::<String>::new(), "only in Spanish");
    for (key, text) in english.iter().chain(&spanish) {
        assert!(!text.trim().is_empty(), "{key} is empty");
    }
}

#[test]
fn both_take_the_same_values_and_know_the_same_choices() {
    let (english, spanish) = (messages("en"), messages("es"));
    for (key, text) in &english {
        assert_eq!(places(text), places(&spanish[key]), "{key}");
        assert_eq!(choices(text), choices(&spanish[key]), "{key}");
    }
}

#[test]
fn nothing_that_needs_translating_is_the_same_in_both() {
    let (english, spanish) = (messages("en"), messages("es"));
    let words = |text: &str| -> usize {
        // What stands in places is no word of the sentence.
        let outside: String = text.split('{').map(|part| part.rsplit('}').next().unwrap_or(part)).collect();
        outside.split_whitespace().filter(|word| word.chars().any(char::is_alphabetic)).count()
    };
    let same: Vec<&String> = english
        .iter()
        .filter(|(key, text)| words(text) > 2 && spanish[*key] == **text)
        .map(|(key, _)| key)
        .collect();
    assert!(same.is_empty(), "{same:?}");
}

#[test]
fn every_error_has_a_remedy_and_every_notice_too() {
    for code in ["en", "es"] {
        let all = messages(code);
        let of = |prefix: &str| -> BTreeSet<String> {
            all.keys().filter_map(|key| key.strip_prefix(prefix)).map(str::to_owned).collect()
        };
        assert_eq!(of("error_"), of("remedy_"), "{code}");
        let (remedies, notices): (BTreeSet<String>, BTreeSet<String>) = of("notice_")
            .into_iter()
            .filter(|one| !["read", "job"].contains(&one.as_str()))
            .partition(|one| one.ends_with("_remedy"));
        let expected: BTreeSet<String> = notices.iter().map(|one| format!("{one}_remedy")).collect();
        assert!(notices.len() > 5);
        assert_eq!(remedies, expected, "{code}");
    }
}

#[test]
fn english_is_american_and_says_quotes_and_apostrophes_the_same_way() {
    const BRITISH: [&str; 22] = [
        "colour",
        "labour",
        "licence",
        "catalogue",
        "metre",
        "cancelled",
        "judgement",
        "vapour",
        "centre",
        "favour",
        "organis",
        "recognis",
        "authoris",
        "programme ",
        "tyre",
        "e-mail",
        "whilst",
        "behaviour",
        "grey",
        "cheque",
        "time-stamp",
        "time-line",
    ];
    for (key, text) in messages("en") {
        let low = text.to_lowercase();
        for word in BRITISH {
            assert!(!low.contains(word), "{key}: {word} in “{text}”");
        }
        assert!(!text.contains(['\'', '«']), "{key}: “{text}”");
    }
}

#[test]
fn a_caution_stands_nowhere_else() {
    for code in ["en", "es"] {
        let all = messages(code);
        let (cautions, others): (Vec<_>, Vec<_>) =
            all.iter().partition(|(key, _)| key.starts_with("caution_"));
        for (key, text) in cautions.iter().filter(|(_, text)| text.len() > 60) {
            let copies: Vec<_> = others.iter().filter(|(_, other)| other.contains(text.as_str())).collect();
            assert!(copies.is_empty(), "{code}: {key} again as {copies:?}");
        }
    }
}
