/// Enough for anything a person types; more would only cost time.
const MOST_WORDS: usize = 12;
/// A VIN has 17 characters (ISO 3779).
const VIN: usize = 17;

/// Longest part of a plate written in two.
const PLATE_PART: usize = 4;

/// The text to index: the parts themselves and the other ways people type the same thing.
///
/// A plate or phone number is also found without its separators, and a VIN by its last eight or last six
/// characters, which is how it is read out over a counter (common practice, no source).
pub(crate) fn words(parts: &[&str]) -> String {
    let text = parts.join("\n");
    let bare: Vec<Vec<char>> = text.split_whitespace().map(bare).collect();
    let joined = bare.iter().zip(bare.iter().skip(1)).filter_map(|(left, right)| in_two_parts(left, right));
    let others: Vec<String> = text.split_whitespace().flat_map(other_forms).chain(joined).collect();
    format!("{text}\n{}", others.join(" "))
}

/// An FTS5 expression that asks for every typed word as a prefix; `None` when nothing typed can be searched for.
///
/// Each word is made of letters and digits alone and quoted, so no operator can get in.
pub(crate) fn expression(query: &str) -> Option<String> {
    let words: Vec<String> = query
        .split(|character: char| !character.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .take(MOST_WORDS)
        .map(|word| format!("\"{word}\"*"))
        .collect();
    (!words.is_empty()).then(|| words.join(" AND "))
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
}
