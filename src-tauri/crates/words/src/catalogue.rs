//! The words of one language, by key.

use crate::{Language, sources};
use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource};
use std::collections::BTreeSet;
use std::sync::LazyLock;

static ENGLISH: LazyLock<Catalogue> = LazyLock::new(|| Catalogue::read(Language::English));
static SPANISH: LazyLock<Catalogue> = LazyLock::new(|| Catalogue::read(Language::Spanish));

/// The words of one language.
pub struct Catalogue {
    bundle: FluentBundle<FluentResource>,
    keys: BTreeSet<String>,
}

impl Catalogue {
    /// The catalogue of a language, read once.
    pub fn of(language: Language) -> &'static Catalogue {
        match language {
            Language::English => &ENGLISH,
            Language::Spanish => &SPANISH,
        }
    }

    /// The sentence of a key with its places filled. An unknown key comes back as it is; a place without a value stays
    /// visible as `{$name}`.
    pub fn say(&self, key: &str, values: &[(&str, &str)]) -> String {
        self.fill(key, values.iter().copied().collect())
    }

    /// As [`Catalogue::say`], where a number decides between singular and plural: `name` is its place.
    pub fn say_count(&self, key: &str, name: &str, count: u64, values: &[(&str, &str)]) -> String {
        let mut all: FluentArgs = values.iter().copied().collect();
        all.set(name.to_owned(), count);
        self.fill(key, all)
    }

    /// Whether there are words for a key.
    pub fn has(&self, key: &str) -> bool {
        self.keys.contains(key)
    }

    /// Every key, in order.
    pub fn keys(&self) -> impl Iterator<Item = &str> {
        self.keys.iter().map(String::as_str)
    }

    fn fill(&self, key: &str, values: FluentArgs<'_>) -> String {
        let Some(pattern) = self.bundle.get_message(key).and_then(|message| message.value()) else {
            return key.to_owned();
        };
        // An error is a place without a value: it stays visible in the sentence.
        self.bundle.format_pattern(pattern, Some(&values), &mut Vec::new()).into_owned()
    }

    fn read(language: Language) -> Catalogue {
        let mut bundle = FluentBundle::new_concurrent(vec![language.identifier()]);
        // The sentences go into files and onto paper: no invisible marks around values.
        bundle.set_use_isolating(false);
        let mut keys = BTreeSet::new();
        for (_, text) in sources::files(language) {
            // What can't be read is left out here and found by the tests.
            let resource = FluentResource::try_new((*text).to_owned()).unwrap_or_else(|(rest, _)| rest);
            keys.extend(messages(text));
            bundle.add_resource_overriding(resource);
        }
        Catalogue { bundle, keys }
    }
}

/// Keys of the messages of a file: they begin a line.
fn messages(text: &str) -> impl Iterator<Item = String> {
    text.lines().filter(|line| line.starts_with(|first: char| first.is_ascii_alphabetic())).filter_map(
        |line| {
            let (key, _) = line.split_once('=')?;
            Some(key.trim().to_owned())
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sources::files;

    #[test]
    fn every_file_is_read_whole_and_no_key_stands_twice() {
        for language in Language::ALL {
            let mut seen = BTreeSet::new();
            for (subject, text) in files(language) {
                let code = language.code();
                let read = FluentResource::try_new((*text).to_owned());
                assert!(read.is_ok(), "{code}/{subject}.ftl: {:?}", read.err().map(|(_, errors)| errors));
                let count = messages(text).count();
                assert!(count > 2, "{code}/{subject}.ftl has {count} messages");
                for key in messages(text) {
                    assert!(seen.insert(key.clone()), "{code}: {key} stands twice");
                }
            }
        }
    }

    #[test]
    fn a_value_is_never_read_as_a_place_and_a_missing_one_stays_visible() {
        let catalogue = Catalogue::of(Language::English);
        let said = catalogue.say("job_number", &[("number", "{ $number }")]);
        assert_eq!(said, "Job { $number }");
        assert_eq!(catalogue.say("job_number", &[]), "Job {$number}");
        assert_eq!(catalogue.say("no_such_key", &[]), "no_such_key");
    }

    #[test]
    fn a_number_chooses_between_one_and_many() {
        let say =
            |language, count| Catalogue::of(language).say_count("closed_jobs_count", "count", count, &[]);
        assert!(say(Language::English, 1).starts_with("1 closed job "), "{}", say(Language::English, 1));
        assert!(say(Language::English, 3).starts_with("3 closed jobs "));
        assert!(say(Language::Spanish, 1).contains("1 trabajo cerrado "));
        assert!(say(Language::Spanish, 3).contains("3 trabajos cerrados "));
    }
}
