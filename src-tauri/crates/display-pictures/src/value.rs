//! What a display says: its letters one by one, and what a reader is to say of them.

use crate::chance::Chance;

/// What one cell shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sign {
    /// A digit, minus, `L`, or another letter.
    Letter(char),
    /// A decimal point.
    Point,
    /// Nothing: a cell that is not lit.
    Blank,
}

/// What stands in the main row.
#[derive(Debug, Clone)]
pub struct Said {
    /// Cell after cell from the left.
    pub signs: Vec<Sign>,
    /// What a reader is to say: `-0.001`, `OL`, nothing for words.
    pub value: Option<String>,
}

/// Words that meters show in place of a number; none of their letters may be taken for digits.
const WORDS: [&str; 12] =
    ["Err", "Auto", "HOLd", "bAtt", "LEAd", "OPEn", "FUSE", "CAL", "donE", "SELF", "InIt", "dIod"];

/// Draws what a display says. `words` says whether it has letters beyond those of `OL`.
#[must_use]
pub fn invent(chance: &mut Chance, words: bool) -> Said {
    let kind = chance.share();
    if kind < 0.07 {
        return over_range(chance);
    }
    if kind < 0.10 {
        let point = chance.yes(0.4);
        let mut signs = vec![Sign::Letter('1')];
        if point {
            signs.push(Sign::Point);
        }
        let blank = chance.below(4);
        signs.extend(std::iter::repeat_n(Sign::Blank, blank));
        return Said { signs, value: Some(if point { "1." } else { "1" }.to_owned()) };
    }
    if words && kind < 0.125 {
        let word = chance.pick(&WORDS, "Err");
        return Said { signs: word.chars().map(Sign::Letter).collect(), value: None };
    }
    number(chance)
}

fn over_range(chance: &mut Chance) -> Said {
    let text = chance.pick(&["OL", "OL", "0L", ".OL", "O.L", "OL.", "-OL", "oL", "o.L", "oL."], "OL");
    let mut signs: Vec<Sign> = text.chars().map(sign).collect();
    if chance.yes(0.25) {
        let at = signs.len() - 1;
        signs.insert(at, Sign::Blank);
    }
    let value = if text.starts_with('-') { "-OL" } else { "OL" };
    Said { signs, value: Some(value.to_owned()) }
}

fn sign(letter: char) -> Sign {
    match letter {
        '.' => Sign::Point,
        ' ' => Sign::Blank,
        other => Sign::Letter(other),
    }
}

fn number(chance: &mut Chance) -> Said {
    let digits = chance.pick(&[1, 2, 3, 3, 3, 4, 4, 4, 4, 4, 5, 5, 5, 6, 7], 4);
    let uniform = chance.yes(0.15);
    let repeated = char::from(b'0' + chance.below(10) as u8);
    let mut text: Vec<char> = (0..digits)
        .map(
            |_| if uniform && chance.yes(0.7) { repeated } else { char::from(b'0' + chance.below(10) as u8) },
        )
        .collect();
    // Ones and zeros are what goes missing most easily, so they come more often.
    for letter in &mut text {
        if chance.yes(0.10) {
            *letter = chance.pick(&['1', '1', '0'], '1');
        }
    }
    let point = if chance.yes(0.8) { Some(chance.below(digits + 1).min(digits)) } else { None };
    let mut signs: Vec<Sign> = text.into_iter().map(Sign::Letter).collect();
    if let Some(at) = point {
        // A point at the very end is rare, one before the first digit happens.
        let at = if at == digits && chance.yes(0.85) { digits.saturating_sub(1).max(1) } else { at };
        if !(at == 0 && chance.yes(0.6)) {
            signs.insert(at.min(signs.len()), Sign::Point);
        }
    }
    if chance.yes(0.22) {
        let gap = if chance.yes(0.3) { chance.below(3) } else { 0 };
        for _ in 0..gap {
            signs.insert(0, Sign::Blank);
        }
        signs.insert(0, Sign::Letter('-'));
    }
    let value = signs.iter().filter_map(|sign| match sign {
        Sign::Letter(letter) => Some(*letter),
        Sign::Point => Some('.'),
        Sign::Blank => None,
    });
    Said { value: Some(value.collect()), signs }
}

/// The reader's letter for a sign in a row that says `said`: digits, `.`, `-`, `L`, or `x` for any other letter.
#[must_use]
pub fn letter_of(sign: Sign, said: &Said) -> Option<char> {
    match sign {
        Sign::Blank => None,
        Sign::Point => Some('.'),
        Sign::Letter(_) if said.value.is_none() => Some('x'),
        Sign::Letter('O' | 'o') => Some('0'),
        Sign::Letter(letter) => {
            Some(if letter.is_ascii_digit() || letter == '-' || letter == 'L' { letter } else { 'x' })
        }
    }
}
