//! English and Spanish words of the report, of the time-line and of the cautions.

use circuit::{Component, ComponentKind};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// Language of a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Language {
    /// English.
    English,
    /// Spanish.
    Spanish,
}

impl Language {
    /// BCP 47 code, `en` or `es`.
    pub fn code(self) -> &'static str {
        match self {
            Language::English => "en",
            Language::Spanish => "es",
        }
    }

    /// The language of a code; English for every unknown one.
    pub fn of(code: &str) -> Language {
        if code.starts_with("es") { Language::Spanish } else { Language::English }
    }
}

type Table = BTreeMap<String, String>;

static ENGLISH: LazyLock<Table> = LazyLock::new(|| read(include_str!("../words/en.json")));
static SPANISH: LazyLock<Table> = LazyLock::new(|| read(include_str!("../words/es.json")));
static CAUTIONS: LazyLock<BTreeMap<String, Table>> =
    LazyLock::new(|| serde_json::from_str(include_str!("../words/cautions.json")).unwrap_or_default());

/// The sentences of a language by key, with their `{places}` open.
pub fn table(language: Language) -> &'static BTreeMap<String, String> {
    match language {
        Language::English => &ENGLISH,
        Language::Spanish => &SPANISH,
    }
}

/// The sentence of a key with its `{places}` filled. An unknown key comes back as it is; a place without a value stays
/// visible.
pub fn say(language: Language, key: &str, values: &[(&str, &str)]) -> String {
    let sentence = table(language).get(key).map_or(key, String::as_str);
    fill(sentence, |name| values.iter().find(|(n, _)| *n == name).map(|(_, value)| (*value).to_owned()))
}

/// The words for a code (`unit` + `ohm` → "Ω"); a code without words comes back as it is.
pub fn code(language: Language, family: &str, code: &str) -> String {
    table(language).get(&format!("{family}_{code}")).map_or(code, String::as_str).to_owned()
}

/// What is wrong with a part, by the code of its fault. An open fuse is blown.
pub fn failure(language: Language, part: Option<&Component>, mode: &str) -> String {
    let fuse = part.is_some_and(|part| matches!(part.kind, ComponentKind::Fuse { .. }));
    let mode = if fuse && mode == "open" { "open_fuse" } else { mode };
    code(language, "failure", mode)
}

/// The text of a caution.
pub fn caution(language: Language, code: &str) -> String {
    CAUTIONS.get(code).and_then(|texts| texts.get(language.code())).map_or(code, String::as_str).to_owned()
}

/// One readable line for an entry of the time-line, `kind` as in its record. Values that are codes (unit, channel,
/// purpose, route, outcome) are put into words; a place without a value is left empty.
pub fn line(language: Language, kind: &str, values: &BTreeMap<String, String>) -> String {
    let Some(sentence) = table(language).get(&format!("line_{kind}")) else { return kind.to_owned() };
    let filled = fill(sentence, |name| {
        // A cause's name comes in both languages.
        let own = format!("{name}_{}", language.code());
        let value = values.get(name).or_else(|| values.get(&own));
        Some(value.map_or_else(String::new, |v| spoken(language, kind, name, v)))
    });
    // A place at the end that stayed empty leaves no mark behind.
    filled.split_whitespace().collect::<Vec<_>>().join(" ").trim_end_matches([' ', '·']).to_owned()
}

/// The word for a probability with the number in brackets: "very likely (97 %)".
pub fn likelihood(language: Language, probability: f64) -> String {
    let word = match circuit::LikelihoodWord::of(probability) {
        circuit::LikelihoodWord::AlmostCertain => "almost_certain",
        circuit::LikelihoodWord::VeryLikely => "very_likely",
        circuit::LikelihoodWord::Likely => "likely",
        circuit::LikelihoodWord::AboutAsLikelyAsNot => "about_as_likely_as_not",
        circuit::LikelihoodWord::Unlikely => "unlikely",
        circuit::LikelihoodWord::VeryUnlikely => "very_unlikely",
        circuit::LikelihoodWord::PracticallyRuledOut => "practically_ruled_out",
    };
    let word = code(language, "likelihood", word);
    say(language, "likelihood", &[("word", &word), ("percent", &percent(language, probability))])
}

/// Whole percent; the ends never read as certain or impossible.
pub fn percent(language: Language, probability: f64) -> String {
    if probability > 0.99 {
        return say(language, "percent_over", &[]);
    }
    if probability < 0.01 {
        return say(language, "percent_under", &[]);
    }
    // A space that doesn't break: the sign stays with its number.
    format!("{:.0}\u{a0}%", probability * 100.0)
}

fn spoken(language: Language, kind: &str, name: &str, value: &str) -> String {
    let family = match (kind, name) {
        (_, "unit" | "purpose" | "route") => name,
        (_, "channel") => "approval_channel",
        ("programming_reported", "outcome") => "programming_outcome",
        (_, "outcome") => "outcome",
        (_, "caution") => return first_sentence(&caution(language, value)),
        (_, "total") => return amount(value),
        (_, "fields") => return value.replace(',', ", ").replace('_', " "),
        _ => return value.to_owned(),
    };
    code(language, family, value)
}

fn first_sentence(text: &str) -> String {
    text.split_inclusive(['.', ':']).next().unwrap_or(text).trim_end_matches(['.', ':']).to_owned()
}

/// An amount as it stands in a record, in minor units, as people write it.
fn amount(stored: &str) -> String {
    stored.to_owned().try_into().map_or_else(|_| stored.to_owned(), |cents: money::Cents| cents.to_string())
}

/// Replaces every `{name}` that `value` knows.
fn fill(sentence: &str, value: impl Fn(&str) -> Option<String>) -> String {
    let mut out = String::new();
    let mut rest = sentence;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        let Some((name, tail)) = after.split_once('}') else {
            out.push('{');
            rest = after;
            continue;
        };
        out.push_str(&value(name).unwrap_or_else(|| format!("{{{name}}}")));
        rest = tail;
    }
    out.push_str(rest);
    out
}

fn read(text: &str) -> Table {
    serde_json::from_str(text).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn places(sentence: &str) -> Vec<String> {
        let mut found: Vec<String> = sentence
            .split('{')
            .skip(1)
            .filter_map(|p| p.split_once('}'))
            .map(|(n, _)| n.to_owned())
            .collect();
        found.sort();
        found
    }

    #[test]
    fn both_languages_have_the_same_keys_and_places() {
        let (en, es) = (table(Language::English), table(Language::Spanish));
        assert!(en.len() > 200, "the words were not read");
        assert_eq!(en.keys().collect::<Vec<_>>(), es.keys().collect::<Vec<_>>());
        for (key, sentence) in en {
            assert_eq!(places(sentence), places(&es[key]), "{key}");
        }
    }

    #[test]
    fn every_record_has_a_line_and_every_caution_has_words() {
        for kind in job::event::DESCRIPTORS.iter().map(|descriptor| descriptor.kind) {
            assert!(ENGLISH.contains_key(&format!("line_{kind}")), "{kind}");
        }
        for language in [Language::English, Language::Spanish] {
            for code in CAUTIONS.keys() {
                assert_ne!(caution(language, code), *code);
            }
        }
        assert!(!CAUTIONS.is_empty());
    }

    #[test]
    fn a_value_is_never_read_as_a_place() {
        let values = BTreeMap::from([
            ("number".to_owned(), "3".to_owned()),
            ("value".to_owned(), "{unit}".to_owned()),
        ]);
        assert_eq!(line(Language::English, "reading_kept", &values), "Reading 3: {unit}");
    }

    #[test]
    fn the_number_always_stands_in_brackets() {
        assert_eq!(likelihood(Language::English, 0.97), "very likely (97\u{a0}%)");
        assert_eq!(likelihood(Language::English, 0.999), "almost certain (>99\u{a0}%)");
        assert_eq!(likelihood(Language::Spanish, 0.004), "prácticamente descartado (<1\u{a0}%)");
    }
}
