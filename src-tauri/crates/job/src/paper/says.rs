//! What each row of a paper is about, and the amount at its end.

use super::PaperRow;
use super::words::{self, holds};
use crate::rules::Locale;
use money::{Cents, Marks};

/// Rows of the head among which the supplier's name is looked for.
const HEAD_ROWS: usize = 6;
/// Letters that a name has at least.
const LEAST_LETTERS: usize = 4;

/// What a row is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Says {
    /// Names of columns.
    Columns,
    /// Sum of the lines.
    Subtotal,
    Tax,
    Total,
    /// How it was paid.
    Payment,
    /// Anything else; a line, if an amount stands in it.
    Other,
}

/// A row taken apart.
#[derive(Clone, Debug)]
pub struct Row {
    pub text: String,
    /// Without the amount at its end.
    pub before: String,
    pub says: Says,
    pub amount: Option<Cents>,
    pub probability: f64,
    pub marks: Option<Marks>,
}

impl Row {
    pub fn of(row: &PaperRow, home: &Locale) -> Self {
        let marks = home.marks();
        let (before, amount) = match last_amount(&row.text, marks) {
            Some((before, amount)) => (before, Some(amount)),
            None => (row.text.clone(), None),
        };
        let says = about(&words::plain(&before));
        Self { text: row.text.clone(), before, says, amount, probability: row.probability, marks }
    }
}

fn about(plain: &str) -> Says {
    let columns = words::COLUMNS.iter().filter(|name| holds(plain, &[name])).count();
    if columns >= 2 {
        Says::Columns
    } else if holds(plain, words::SUBTOTAL) {
        Says::Subtotal
    } else if holds(plain, words::TAX_NUMBER) {
        Says::Other
    } else if holds(plain, words::TOTAL)
        && !holds(plain, &["tax total", "total tax", "total vat", "total iva"])
    {
        Says::Total
    } else if holds(plain, words::TAX) {
        Says::Tax
    } else if holds(plain, words::PAYMENT) {
        Says::Payment
    } else {
        Says::Other
    }
}

/// The amount with two decimals that ends a text, and the text before it. Behind it a letter may stand for the tax, or the
/// sign of the currency.
pub fn last_amount(text: &str, marks: Option<Marks>) -> Option<(String, Cents)> {
    let text = text.trim_end();
    let digits_end = text.rfind(|c: char| c.is_ascii_digit()).map(|at| at + 1)?;
    let (upto, behind) = text.split_at_checked(digits_end)?;
    let tail = behind.trim();
    if tail.chars().count() > 3 || tail.contains(['%', ':', '/']) {
        return None;
    }
    let begins =
        upto.char_indices().rev().take_while(|(_, c)| belongs(*c)).last().map_or(upto.len(), |(at, _)| at);
    let (before, number) = upto.split_at_checked(begins)?;
    // "24. 90" is what is left of an amount whose point was read with a gap; "1 24.90" is a quantity and an amount.
    let joined = joined(number);
    let at = joined.rfind(' ').map_or(0, |at| at + 1);
    let (rest, word) = joined.split_at_checked(at)?;
    let decimals = word.rsplit_once(['.', ',']).map(|(_, decimals)| decimals.len());
    if decimals != Some(2)
        || !word.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '−' | '.' | ','))
    {
        return None;
    }
    // A part's number: `KD-44.71`.
    let hangs_on = word.starts_with(['-', '−']) && before.ends_with(char::is_alphanumeric) && rest.is_empty();
    if hangs_on {
        return None;
    }
    let amount = Cents::typed(word, marks).ok()?;
    let before = format!("{before}{rest}");
    let bare = before.trim_end().trim_end_matches(['$', '€', '£']).trim_end();
    let minus =
        bare.ends_with([' ', '-', '−', '(']) && bare.ends_with(['-', '−', '(']) || tail.starts_with('-');
    let bare = bare.trim_end_matches(['-', '−', '(']).trim_end();
    let amount = if minus { Cents::ZERO.minus(amount).ok()? } else { amount };
    Some((bare.to_owned(), amount))
}

const fn belongs(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '.' | ',' | ' ' | '-' | '−')
}

/// Without the spaces beside a decimal mark.
fn joined(number: &str) -> String {
    let mut out = number.to_owned();
    for (apart, together) in [(" .", "."), (" ,", ","), (". ", "."), (", ", ",")] {
        out = out.replace(apart, together);
    }
    out
}

/// A known supplier that stands on the paper, or the first row of its head that can be a name.
pub fn supplier(said: &[Row], known: &[String]) -> String {
    let on_paper = |name: &&String| {
        let name = words::plain(name);
        name.len() >= LEAST_LETTERS && said.iter().any(|row| holds(&words::plain(&row.text), &[&name]))
    };
    if let Some(name) = known.iter().filter(on_paper).max_by_key(|name| name.len()) {
        return name.clone();
    }
    let first = said.iter().take(HEAD_ROWS).find_map(|row| {
        let piece = row.text.split("  ").next().unwrap_or_default().trim();
        let plain = words::plain(piece);
        let letters = piece.chars().filter(|c| c.is_alphabetic()).count();
        let digits = piece.chars().filter(char::is_ascii_digit).count();
        let named = letters >= LEAST_LETTERS && digits * 3 <= letters && row.amount.is_none();
        (named && !holds(&plain, words::HEAD) && !piece.contains(['@', ':'])).then(|| piece.to_owned())
    });
    first.unwrap_or_default()
}

/// What stands behind "invoice", "receipt no." and the like: in the same row, or below it in a table.
pub fn number(said: &[Row]) -> String {
    let found = said.iter().enumerate().find_map(|(place, row)| {
        let pieces: Vec<&str> = row.text.split("  ").map(str::trim).collect();
        let at = pieces.iter().position(|piece| holds(&words::plain(piece), words::NUMBER))?;
        let behind = pieces.iter().skip(at).find_map(|piece| numbered(piece));
        behind.or_else(|| {
            let below = said.get(place + 1)?;
            numbered(below.text.split("  ").nth(at)?)
        })
    });
    found.unwrap_or_default()
}

/// The last word with a digit that is no date and no amount.
fn numbered(piece: &str) -> Option<String> {
    let mut words = piece.split([' ', ':', '#', '°', 'º']).filter(|word| !word.is_empty());
    let fits = |word: &&str| {
        let digits = word.chars().filter(char::is_ascii_digit).count();
        let plain = word.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '/' | '.'));
        let is_date = super::dates::is_date(word);
        digits >= 2 && plain && !is_date && last_amount(word, None).is_none()
    };
    words.rfind(fits).map(|word| word.trim_matches(['.', '-', '/']).to_owned())
}
