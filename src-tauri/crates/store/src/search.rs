/// Enough for anything a person types; more would only cost time.
const MOST_WORDS: usize = 12;
/// A VIN has 17 characters (ISO 3779).
const VIN: usize = 17;

/// Longest part of a plate written in two.
const PLATE_PART: usize = 4;
/// Digits of a phone number: a local one of North America, and the longest there is (ITU-T E.164).
const PHONE: std::ops::RangeInclusive<usize> = 7..=15;
/// Digits of a number of North America with its country's 1 before it.
const WITH_COUNTRY: usize = 11;
/// Digits from which groups of them may be one number: fewer are years and mileages.
const GROUPED: usize = 4;

/// The text to index: the parts themselves and the other ways people type the same thing.
///
/// A plate or phone number is also found without its separators, and a VIN by its last eight or last six
/// characters, which is how it is read out over a counter (common practice, no source). A phone number is found however it is
/// spaced, with the country's 1 or without it, and by its last seven digits.
pub(crate) fn words(parts: &[&str]) -> String {
    of_text(&parts.join("\n"))
}

/// The same from a text that was indexed before: its last line are the other ways.
pub(crate) fn again(indexed: &str) -> String {
    indexed.rsplit_once('\n').map_or_else(|| indexed.to_owned(), |(text, _)| of_text(text))
}

fn of_text(text: &str) -> String {
    let bare: Vec<Vec<char>> = text.split_whitespace().map(bare).collect();
    let joined = bare.iter().zip(bare.iter().skip(1)).filter_map(|(left, right)| in_two_parts(left, right));
    let mut others: Vec<String> = text.split_whitespace().flat_map(other_forms).chain(joined).collect();
    for form in text.lines().flat_map(phones) {
        if !others.contains(&form) {
            others.push(form);
        }
    }
    format!("{text}\n{}", others.join(" "))
}

/// An FTS5 expression that asks for every typed word as a prefix; `None` when nothing typed can be searched for. Groups of
/// digits that follow each other are also looked for as one number.
///
/// Each word is made of letters and digits alone and quoted, so no operator can get in.
pub(crate) fn expression(query: &str) -> Option<String> {
    let typed = query.split(|character: char| !character.is_alphanumeric()).filter(|word| !word.is_empty());
    let typed: Vec<&str> = typed.take(MOST_WORDS).collect();
    let groups = typed.chunk_by(|left, right| is_number(left) && is_number(right));
    let clauses: Vec<String> = groups.map(clause).collect();
    (!clauses.is_empty()).then(|| clauses.join(" AND "))
}

/// The same among the rows with a mark alone; `None` when nothing is asked at all.
pub(crate) fn narrowed(expression: Option<String>, mark: Option<String>) -> Option<String> {
    let words = expression.map(|expression| format!("words : ({expression})"));
    let mark = mark.map(|mark| format!("marks : \"{mark}\""));
    let both: Vec<String> = words.into_iter().chain(mark).collect();
    (!both.is_empty()).then(|| both.join(" AND "))
}

fn clause(words: &[&str]) -> String {
    let each = words.iter().map(|word| prefix(word)).collect::<Vec<_>>().join(" AND ");
    let whole = words.concat();
    let as_one = words.len() > 1 && whole.len() >= GROUPED && is_number(&whole);
    let rest = words.split_first().filter(|(first, _)| **first == "1").map(|(_, rest)| rest.concat());
    let national = rest.filter(|rest| as_one && rest.len() >= GROUPED).or_else(|| without_country(&whole));
    let others = as_one.then(|| whole.clone()).into_iter().chain(national);
    let others: Vec<String> = others.map(|number| prefix(&number)).collect();
    if others.is_empty() { each } else { format!("(({each}) OR {})", others.join(" OR ")) }
}

fn prefix(word: &str) -> String {
    format!("\"{word}\"*")
}

fn is_number(word: &str) -> bool {
    word.bytes().all(|byte| byte.is_ascii_digit())
}

/// A number of North America without the 1 before it.
fn without_country(digits: &str) -> Option<String> {
    let rest = digits.strip_prefix('1').filter(|_| digits.len() == WITH_COUNTRY && is_number(digits));
    rest.map(str::to_owned)
}

/// What of a line can be phone numbers, each in the ways people type it.
fn phones(line: &str) -> Vec<String> {
    let words: Vec<&str> = line.split_whitespace().collect();
    let runs = words.chunk_by(|left, right| goes_on(left, right));
    let numbers = runs.map(|run| digits(&run.concat())).filter(|number| PHONE.contains(&number.len()));
    numbers.flat_map(forms_of_phone).collect()
}

/// A number begins at a plus, and at the bracket of its area code unless the country stands before it.
fn goes_on(left: &str, right: &str) -> bool {
    let begins = right.starts_with('+')
        || (right.starts_with('(') && !left.starts_with('+') && left.bytes().any(|byte| byte != b'1'));
    is_of_phone(left) && is_of_phone(right) && !begins
}

fn forms_of_phone(number: String) -> Vec<String> {
    let local: String = number.chars().skip(number.len().saturating_sub(*PHONE.start())).collect();
    let national = without_country(&number);
    let mut forms = vec![number];
    forms.extend(national);
    if !forms.contains(&local) {
        forms.push(local);
    }
    forms
}

fn is_of_phone(word: &str) -> bool {
    let fits = |character: char| character.is_ascii_digit() || "()+-./".contains(character);
    word.chars().all(fits) && word.bytes().any(|byte| byte.is_ascii_digit())
}

/// Nothing for a word that isn't one of a phone number.
fn digits(text: &str) -> String {
    if is_of_phone(text) { text.chars().filter(char::is_ascii_digit).collect() } else { String::new() }
}

fn bare(word: &str) -> Vec<char> {
    word.chars().filter(|character| character.is_alphanumeric()).collect()
}

fn other_forms(word: &str) -> Vec<String> {
    let bare = bare(word);
    let mut forms = Vec::new();
    if bare.len() < word.chars().count() && bare.len() > 1 {
        forms.push(bare.iter().collect());
    }
    if bare.len() == VIN {
        forms.extend([8, 6].map(|count| bare.iter().skip(VIN - count).collect()));
    }
    forms
}

/// "PLM 880" may be typed as "plm880".
fn in_two_parts(left: &[char], right: &[char]) -> Option<String> {
    let short = [left, right].iter().all(|part| (1..=PLATE_PART).contains(&part.len()));
    let digits = left.iter().chain(right).any(char::is_ascii_digit);
    (short && digits).then(|| left.iter().chain(right).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn typed_words_become_quoted_prefixes() {
        let check = |typed: &str, expected: Option<&str>| {
            assert_eq!(expression(typed).as_deref(), expected, "{typed}")
        };
        check("abc 12", Some("\"abc\"* AND \"12\"*"));
        check("555 0100", Some("((\"555\"* AND \"0100\"*) OR \"5550100\"*)"));
        check("1 555", Some("((\"1\"* AND \"555\"*) OR \"1555\"*)"));
        check("+15550100199", Some("((\"15550100199\"*) OR \"5550100199\"*)"));
        check("a\" OR job:*", Some("\"a\"* AND \"OR\"* AND \"job\"*"));
        check(" *()^-\"' ", None);
        check("\0", None);
    }

    #[test]
    fn plates_and_vins_are_found_as_people_read_them() {
        let indexed = words(&["7KX-042", "PLM 880", "ZZ9AB3CD6EF678901"]);
        for form in ["7KX042", "PLM880", "EF678901", "678901"] {
            assert!(indexed.split_whitespace().any(|word| word == form), "{form} in {indexed}");
        }
    }

    /// Numbers from 555-0100 on are kept for fiction (ATIS-0300115); how they are written follows ITU-T E.123 and custom.
    #[test]
    fn a_phone_number_has_the_forms_people_type() {
        for written in [
            "(512) 555-0142",
            "512.555.0142",
            "+1 512 555 0142",
            "5125550142",
            "1-512-555-0142",
            "880 (512) 555-0142",
        ] {
            let indexed = words(&["41", written, "ran 55 mph"]);
            for form in ["5125550142", "5550142"] {
                assert!(indexed.split_whitespace().any(|word| word == form), "{form} in {indexed}");
            }
            assert_eq!(again(&indexed), indexed);
        }
    }

    #[test]
    fn a_mark_stands_beside_the_words_and_alone() {
        let check = |query: &str, mark: Option<&str>, expected: Option<&str>| {
            assert_eq!(narrowed(expression(query), mark.map(str::to_owned)).as_deref(), expected)
        };
        check("", None, None);
        check("", Some("waitspart"), Some("marks : \"waitspart\""));
        check("ana", Some("waitspart"), Some("words : (\"ana\"*) AND marks : \"waitspart\""));
    }
}
