//! How the report and the command line take their words out of the one catalogue.
//!
//! Where the report says a thing differently from the screens, for a reader who is no technician, its text has a key of
//! its own that begins with `report_`; everything else is the screens' own word.

use circuit::{Component, ComponentKind};
use std::collections::BTreeMap;
use words::Catalogue;

pub use words::Language;

/// The sentence of a key with its places filled. An unknown key comes back as it is; a place without a value stays
/// visible.
pub fn say(language: Language, key: &str, values: &[(&str, &str)]) -> String {
    let catalogue = Catalogue::of(language);
    let own = format!("report_{key}");
    catalogue.say(if catalogue.has(&own) { &own } else { key }, values)
}

/// Whether the report has words for a key.
pub fn has(language: Language, key: &str) -> bool {
    let catalogue = Catalogue::of(language);
    catalogue.has(&format!("report_{key}")) || catalogue.has(key)
}

/// The words for a code (`unit` + `ohm` → "Ω"); a code without words comes back as it is.
pub fn code(language: Language, family: &str, code: &str) -> String {
    let key = format!("{family}_{code}");
    if has(language, &key) { say(language, &key, &[]) } else { code.to_owned() }
}

/// What is wrong with a part, by the code of its fault. An open fuse is blown; a pick-up has no voltage but a signal.
pub fn failure(language: Language, part: Option<&Component>, mode: &str) -> String {
    let fuse = part.is_some_and(|part| matches!(part.kind, ComponentKind::Fuse { .. }));
    let pick_up = part.is_some_and(|part| matches!(part.kind, ComponentKind::PickUp { .. }));
    let mode = match mode {
        "open" if fuse => "open_fuse",
        "low_voltage" if pick_up => "weak_signal",
        mode => mode,
    };
    code(language, "failure", mode)
}

/// The text of a caution; of one that is not known, that the manufacturer's is to be followed.
pub fn caution(language: Language, code: &str) -> String {
    let key = format!("caution_{code}");
    say(language, if has(language, &key) { &key } else { "caution_unexpected" }, &[])
}

/// Where a rule comes from, with how it is known in words: the code of that comes in brackets at its end.
pub fn rule_source(language: Language, source: &str) -> String {
    let found = source.strip_suffix(')').and_then(|rest| rest.rsplit_once(" ("));
    match found {
        Some((text, status)) if has(language, &format!("source_{status}")) => {
            format!("{text} ({})", code(language, "source", status))
        }
        _ => source.to_owned(),
    }
}

/// One readable line for an entry of the time-line, `kind` as in its record. Values that are codes (unit, channel,
/// purpose, route, outcome) are put into words; a place without a value is left empty.
pub fn line(language: Language, kind: &str, values: &BTreeMap<String, String>) -> String {
    let key = format!("line_{kind}");
    if !has(language, &key) {
        return code(language, "event", kind);
    }
    let said = PLACES.map(|name| {
        if name == "shown" {
            return shown(language, values);
        }
        // A cause's name comes in both languages.
        let own = format!("{name}_{}", language.code());
        let value = values.get(name).or_else(|| values.get(&own));
        value.map_or_else(String::new, |value| spoken(language, kind, name, value))
    });
    let places: Vec<(&str, &str)> = PLACES.into_iter().zip(said.iter().map(String::as_str)).collect();
    // A place at the end that stayed empty leaves no mark behind.
    let filled = say(language, &key, &places);
    filled.split_whitespace().collect::<Vec<_>>().join(" ").trim_end_matches([' ', '·']).to_owned()
}

/// What the lines of the time-line name.
const PLACES: [&str; 25] = [
    "after",
    "authority",
    "before",
    "cause",
    "caution",
    "channel",
    "circuit",
    "connector",
    "count",
    "fields",
    "means",
    "name",
    "number",
    "outcome",
    "pin",
    "purpose",
    "route",
    "shown",
    "size",
    "step",
    "test",
    "total",
    "until",
    "version",
    "way",
];

/// What a reading shows: its value, the lowest and highest of a recording, what was done to the circuit meanwhile.
fn shown(language: Language, values: &BTreeMap<String, String>) -> String {
    let of = |name: &str| values.get(name).map(String::as_str).filter(|value| !value.is_empty());
    let unit = of("unit").map(|unit| code(language, "unit", unit)).unwrap_or_default();
    let with_unit = |number: &str| format!("{number} {unit}");
    let recorded = [("lowest", "value_lowest"), ("highest", "value_highest")];
    let recorded = recorded
        .into_iter()
        .filter_map(|(name, key)| Some(say(language, key, &[("value", &with_unit(of(name)?))])));
    let condition = of("condition").map(|condition| say(language, &format!("provoke_{condition}"), &[]));
    of("value").map(with_unit).into_iter().chain(recorded).chain(condition).collect::<Vec<_>>().join(", ")
}

/// The word for a probability with the number in brackets: "very likely (97%)".
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
    say(language, "likelihood", &[("word", &word), ("percent", &words::percent(probability))])
}

fn spoken(language: Language, kind: &str, name: &str, value: &str) -> String {
    let family = match (kind, name) {
        (_, "purpose" | "route" | "means" | "step" | "way") => name,
        (_, "channel") => "approval_channel",
        ("programming_reported", "outcome") => "programming_outcome",
        (_, "outcome") => "outcome",
        (_, "caution") => return first_sentence(&caution(language, value)),
        (_, "total") => return amount(value),
        (_, "fields") => return fields(language, value),
        _ => return value.to_owned(),
    };
    code(language, family, value)
}

/// Fields of the check-in by name, in a list.
fn fields(language: Language, codes: &str) -> String {
    let names = codes.split(',').map(|field| code(language, "field", field));
    names.collect::<Vec<_>>().join(", ")
}

fn first_sentence(text: &str) -> String {
    text.split_inclusive(['.', ':']).next().unwrap_or(text).trim_end_matches(['.', ':']).to_owned()
}

/// An amount as it stands in a record, in minor units, as people write it.
fn amount(stored: &str) -> String {
    stored.to_owned().try_into().map_or_else(|_| stored.to_owned(), |cents: money::Cents| cents.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_record_has_a_line_in_both_languages() {
        for kind in job::event::DESCRIPTORS.iter().map(|descriptor| descriptor.kind) {
            for language in Language::ALL {
                let named = has(language, &format!("line_{kind}")) || has(language, &format!("event_{kind}"));
                assert!(named, "{kind}");
            }
        }
    }

    #[test]
    fn no_line_leaves_a_place_open_or_shows_a_code() {
        let values = BTreeMap::from(PLACES.map(|name| (name.to_owned(), format!("«{name}»"))));
        for language in Language::ALL {
            for key in Catalogue::of(language).keys().filter_map(|key| key.strip_prefix("line_")) {
                let said = line(language, key, &values);
                assert!(!said.contains('$') && !said.contains("line_"), "{key}: {said}");
            }
        }
    }

    #[test]
    fn a_caution_has_one_text_and_none_is_shown_as_a_code() {
        for language in Language::ALL {
            let keys = Catalogue::of(language).keys();
            let cautions: Vec<&str> = keys
                .filter(|key| key.starts_with("caution_") || key.starts_with("report_caution_"))
                .collect();
            assert!(cautions.len() > 9, "{cautions:?}");
            assert!(!cautions.iter().any(|key| key.starts_with("report_")), "a second text: {cautions:?}");
            let known: Vec<&str> = job::cautions::ALL.iter().map(|caution| caution.code).collect();
            // The last three are of the page that shows a caution, and of one that is not known.
            let others = cautions.iter().filter_map(|key| key.strip_prefix("caution_"));
            let others: Vec<&str> = others.filter(|code| !known.contains(code)).collect();
            assert_eq!(others, ["read", "title", "unexpected"], "words for no caution");
            let air_bag = caution(language, job::cautions::AIR_BAG);
            assert!(
                !air_bag.contains(|c: char| c.is_ascii_digit()),
                "a waiting time is the manufacturer's to say"
            );
            for code in known {
                assert_eq!(
                    caution(language, code),
                    Catalogue::of(language).say(&format!("caution_{code}"), &[])
                );
                assert_ne!(caution(language, code), caution(language, "not_known_here"), "{code}");
            }
            assert!(!caution(language, "not_known_here").contains("not_known_here"));
        }
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
        assert_eq!(likelihood(Language::English, 0.97), "very likely (97%)");
        assert_eq!(likelihood(Language::English, 0.999), "almost certain (>99%)");
        assert_eq!(likelihood(Language::Spanish, 0.004), "prácticamente descartado (<1%)");
    }

    #[test]
    fn how_a_rule_is_known_is_said_in_words() {
        let said = rule_source(Language::English, "Code 9884.9 (text_read)");
        assert_eq!(said, "Code 9884.9 (we read the rule itself)");
        assert_eq!(rule_source(Language::Spanish, "15 NYCRR 82.5(a)"), "15 NYCRR 82.5(a)");
    }
}
