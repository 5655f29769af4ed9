//! What the text of a bar code on a label says: a VIN, a part's number.

use crate::vin::Vin;

/// Shortest text that is offered as a part's number: shorter ones are what scratches are read as.
const SHORTEST: usize = 4;
/// Longest one.
const LONGEST: usize = 40;
/// How a message of several marked fields begins (ISO/IEC 15434, format 06; from memory).
const MESSAGE: &str = "[)>\u{1e}06\u{1d}";
/// Marks of a part's number in such a message, the supplier's own first (ANSI MH10.8.2; from memory).
const PART_MARKS: [&str; 2] = ["1P", "P"];

/// The VIN in a text: seventeen characters whose check digit fits, alone or between signs that no VIN has. Labels of imported
/// vehicles may have an `I` before it (common practice, no source).
#[must_use]
pub fn vin_on(text: &str) -> Option<Vin> {
    text.split(|c: char| !c.is_ascii_alphanumeric()).find_map(|word| {
        let word = if word.len() == 18 { word.strip_prefix('I').unwrap_or(word) } else { word };
        Vin::parse(word).ok()
    })
}

/// The part's number in a text: the marked field of a message, or the whole text of an ordinary code.
#[must_use]
pub fn part_number_on(text: &str) -> Option<String> {
    let number = match text.strip_prefix(MESSAGE) {
        Some(fields) => PART_MARKS.iter().find_map(|mark| {
            let fields = fields.split(['\u{1d}', '\u{1e}', '\u{4}']);
            fields.filter_map(|field| field.strip_prefix(mark)).next()
        })?,
        None => text,
    };
    let number = number.trim();
    let shown = number.chars().all(|c| c.is_ascii_graphic() || c == ' ');
    let fits = (SHORTEST..=LONGEST).contains(&number.len()) && shown;
    (fits && vin_on(number).is_none()).then(|| number.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The VIN is the worked example of 49 CFR 565.15(c).
    #[test]
    fn a_vin_is_found_alone_with_a_letter_before_it_and_among_other_words() {
        let vin = "1G4AH59H45G118341";
        for text in [vin, "I1G4AH59H45G118341", "VIN:1G4AH59H45G118341;2005", " 1g4ah59h45g118341 "] {
            assert_eq!(vin_on(text).map(|vin| vin.to_string()).as_deref(), Some(vin), "{text:?}");
        }
        for text in ["1G4AH59H45G118342", "1G4AH59H45G11834", "", "A1G4AH59H45G118341"] {
            assert_eq!(vin_on(text), None, "{text:?}");
        }
    }

    #[test]
    fn a_part_number_is_the_whole_text_or_the_marked_field() {
        let number = |text: &str| part_number_on(text);
        assert_eq!(number("KD-4471-B").as_deref(), Some("KD-4471-B"));
        let message = "[)>\u{1e}06\u{1d}P88-201\u{1d}1PKD-4471-B\u{1d}S0007\u{1e}\u{4}";
        assert_eq!(number(message).as_deref(), Some("KD-4471-B"));
        assert_eq!(number("[)>\u{1e}06\u{1d}S0007\u{1e}\u{4}"), None);
        assert_eq!(number("1G4AH59H45G118341"), None, "a VIN is no part");
        assert_eq!(number("A1"), None);
    }
}
