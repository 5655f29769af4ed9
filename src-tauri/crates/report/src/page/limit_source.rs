//! Where the limit of a test comes from, in the reader's language. Circuit files name it in English; the words of the library's
//! own are known, anybody else's stand as they were written.

use crate::words::{self, Language};

/// The source in words.
pub(crate) fn limit_source(source: &str, language: Language) -> String {
    let (key, numbers) = key(source);
    if !words::has(language, &key) {
        return source.to_owned();
    }
    let names: Vec<String> = (1..=numbers.len()).map(|place| format!("n{place}")).collect();
    let values: Vec<(&str, &str)> = names.iter().map(String::as_str).zip(numbers).collect();
    words::say(language, &key, &values)
}

/// The key of its words, every number an `n`, and the numbers in their order.
fn key(source: &str) -> (String, Vec<&str>) {
    let (mut words, mut numbers, mut rest) = (String::new(), Vec::new(), source);
    while let Some(first) = rest.chars().next() {
        let digits = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
        let number = rest.get(..digits).map(|number| number.trim_end_matches('.')).unwrap_or_default();
        let length = if first.is_ascii_digit() {
            numbers.push(number);
            words.push('n');
            number.len()
        } else {
            words.push(if first.is_ascii_alphanumeric() { first.to_ascii_lowercase() } else { ' ' });
            first.len_utf8()
        };
        rest = rest.get(length..).unwrap_or_default();
    }
    let words: Vec<&str> = words.split_whitespace().collect();
    (format!("limit_{}", words.join("_")), numbers)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    /// Every limit of the library and of circuits made of blocks.
    #[test]
    fn every_source_of_ours_has_words_in_both_languages() {
        let circuits = circuit::library::all().unwrap().into_iter();
        let sources: BTreeSet<String> = circuits
            .flat_map(|circuit| circuit.tests.clone())
            .filter_map(|test| test.limits.map(|limits| limits.source))
            .collect();
        assert!(sources.len() > 90, "{}", sources.len());
        for source in &sources {
            let (key, numbers) = key(source);
            for language in Language::ALL {
                assert!(words::has(language, &key), "{source}: no words under {key}");
                let said = limit_source(source, language);
                assert!(numbers.iter().all(|number| said.contains(number)), "{source}: {said}");
                assert!(!said.contains('$') && !said.contains("limit_"), "{said}");
            }
        }
    }

    #[test]
    fn what_somebody_else_wrote_stands_as_it_is() {
        let own = "my own meter, 2031";
        assert_eq!(limit_source(own, Language::Spanish), own);
        assert_eq!(
            limit_source("0.2 V with 6 A (common practice)", Language::Spanish),
            "0.2 V con 6 A (práctica común)"
        );
    }
}
