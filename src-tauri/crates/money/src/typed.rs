//! A decimal number as a person types it, read without floating point.

use crate::error::MoneyError;

/// Digits, how many of them are decimals, and the sign. `-0` reads as zero.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Typed {
    digits: i128,
    decimals: u32,
}

impl Typed {
    /// An amount of money: thousands separators allowed, two decimals at most.
    pub(crate) fn amount(text: &str) -> Result<Typed, MoneyError> {
        let (negative, bare) = unsigned(text)?;
        let (whole, decimals) = split_amount(text, bare)?;
        Typed::new(text, negative, &ungrouped(text, whole)?, decimals, 2)
    }

    /// A quantity or a percentage: one point or comma is the decimal mark, no thousands separators.
    pub(crate) fn decimal(text: &str, most: u32) -> Result<Typed, MoneyError> {
        let (negative, bare) = unsigned(text)?;
        let (whole, decimals) = bare.split_once(['.', ',']).unwrap_or((bare, ""));
        Typed::new(text, negative, whole, decimals, most)
    }

    /// The number times ten to the power `places`; `None` if it has more decimals or doesn't fit.
    pub(crate) fn scaled(&self, places: u32) -> Option<i128> {
        let power = places.checked_sub(self.decimals)?;
        self.digits.checked_mul(10_i128.checked_pow(power)?)
    }

    fn new(text: &str, negative: bool, whole: &str, decimals: &str, most: u32) -> Result<Typed, MoneyError> {
        let count = u32::try_from(decimals.len()).map_err(|_| MoneyError::TooLarge)?;
        let all = format!("{whole}{decimals}");
        if all.is_empty() || !all.bytes().all(|b| b.is_ascii_digit()) {
            return Err(MoneyError::NotAnAmount { text: text.to_owned() });
        }
        if count > most {
            return Err(MoneyError::TooManyDecimals { text: text.to_owned(), most });
        }
        let digits: i128 = all.parse().map_err(|_| MoneyError::TooLarge)?;
        Ok(Typed { digits: if negative { -digits } else { digits }, decimals: count })
    }
}

/// Takes off spaces, one currency or per-cent sign and one leading minus.
fn unsigned(text: &str) -> Result<(bool, &str), MoneyError> {
    let signs = ['$', '€', '%'];
    let bare = text.trim().trim_end_matches(signs).trim();
    let (negative, bare) = match bare.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (true, rest),
        None => (false, bare),
    };
    let bare = bare.trim().trim_start_matches(signs).trim();
    match bare.is_empty() {
        true => Err(MoneyError::NotAnAmount { text: text.to_owned() }),
        false => Ok((negative, bare)),
    }
}

/// Splits into the part before the decimal mark (separators still in) and the decimals.
fn split_amount<'a>(text: &str, bare: &'a str) -> Result<(&'a str, &'a str), MoneyError> {
    let Some((whole, last)) = bare.rsplit_once(['.', ',']) else { return Ok((bare, "")) };
    let mark = bare.chars().rev().find(|c| matches!(c, '.' | ','));
    let same_before = whole.chars().any(|c| Some(c) == mark);
    let other_before = whole.contains(['.', ',']) && !same_before;
    match (same_before, other_before, last.len()) {
        (true, _, _) => Ok((bare, "")),
        (false, false, 3) if mark == Some('.') => {
            Err(MoneyError::AmbiguousSeparator { text: text.to_owned() })
        }
        (false, false, 3) => Ok((bare, "")),
        (_, _, 0) => Err(MoneyError::NotAnAmount { text: text.to_owned() }),
        _ => Ok((whole, last)),
    }
}

/// Takes thousands separators out if they stand in threes and are all the same.
fn ungrouped(text: &str, whole: &str) -> Result<String, MoneyError> {
    let bad = || MoneyError::BadGrouping { text: text.to_owned() };
    if whole.contains('.') && whole.contains(',') {
        return Err(bad());
    }
    let mut groups = whole.split(['.', ',']);
    let first = groups.next().unwrap_or("");
    let rest: Vec<&str> = groups.collect();
    let grouped = !rest.is_empty();
    if grouped && (first.is_empty() || first.len() > 3 || rest.iter().any(|g| g.len() != 3)) {
        return Err(bad());
    }
    Ok(format!("{first}{}", rest.concat()))
}
