//! What a string of signs means as a meter's number.

/// What a string says.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Said {
    /// A number as the display writes it (`039.5`, `.001`, `-0.001`), or `OL` or `-OL` for over-range.
    Value(String),
    /// Upside down.
    Turned,
    /// No signs.
    Nothing,
    /// A word, a covered sign, or an order of signs that no meter writes.
    NoNumber,
}

/// Most digits that a meter's row has.
const MOST_DIGITS: usize = 8;
/// Most letters of a unit as large as the digits, after the number.
const MOST_UNIT: usize = 3;

/// Reads a string of the recognizer's letters: `x` is any other letter, `?` a sign that is cut or covered.
#[must_use]
pub fn said(string: &str) -> Said {
    if string.is_empty() {
        return Said::Nothing;
    }
    if string.contains('u') {
        return Said::Turned;
    }
    let number = string.trim_end_matches('x');
    if number.is_empty() || string.len() - number.len() > MOST_UNIT {
        return Said::NoNumber;
    }
    let unsigned = number.strip_prefix('-').unwrap_or(number);
    let minus = if unsigned.len() < number.len() { "-" } else { "" };
    let without_points: String = unsigned.chars().filter(|letter| *letter != '.').collect();
    if without_points == "0L" && unsigned.matches('.').count() < 2 {
        return Said::Value(format!("{minus}OL"));
    }
    let digits = without_points.chars().filter(char::is_ascii_digit).count();
    let plain = digits == without_points.len() && unsigned.matches('.').count() < 2;
    if plain && (1..=MOST_DIGITS).contains(&digits) { Said::Value(number.to_owned()) } else { Said::NoNumber }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_meters_write_is_read_and_nothing_else() {
        // How over-range and small values are written: from the makers' manuals of hand-held meters, as a kind; from memory.
        let value = |text: &str| Said::Value(text.to_owned());
        let cases = [
            ("12.34", value("12.34")),
            ("039.5", value("039.5")),
            (".001", value(".001")),
            ("-0.001", value("-0.001")),
            ("-.5", value("-.5")),
            ("1", value("1")),
            ("1.", value("1.")),
            ("0L", value("OL")),
            (".0L", value("OL")),
            ("0.L", value("OL")),
            ("0L.", value("OL")),
            ("-0L", value("-OL")),
            ("12.34xx", value("12.34")),
            ("", Said::Nothing),
            ("u", Said::Turned),
            ("1u2", Said::Turned),
            ("xxx", Said::NoNumber),
            ("1x2", Said::NoNumber),
            ("12?", Said::NoNumber),
            ("1.2.3", Said::NoNumber),
            ("1-2", Said::NoNumber),
            ("--1", Said::NoNumber),
            ("-", Said::NoNumber),
            (".", Said::NoNumber),
            ("L", Said::NoNumber),
            ("00L", Said::NoNumber),
            ("123456789", Said::NoNumber),
            ("1xxxx", Said::NoNumber),
        ];
        for (string, expected) in cases {
            assert_eq!(said(string), expected, "{string}");
        }
    }
}
