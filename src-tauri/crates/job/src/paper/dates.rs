//! The day on a paper, in the order in which the region writes dates.

use super::PaperRow;
use super::words::{self, holds};
use crate::rules::DateOrder;
use chrono::{Datelike, NaiveDate};

/// First letters of the months, in English and Spanish.
const MONTHS: [[&str; 2]; 12] = [
    ["jan", "ene"],
    ["feb", "feb"],
    ["mar", "mar"],
    ["apr", "abr"],
    ["may", "may"],
    ["jun", "jun"],
    ["jul", "jul"],
    ["aug", "ago"],
    ["sep", "sep"],
    ["oct", "oct"],
    ["nov", "nov"],
    ["dec", "dic"],
];

/// The day that the word beside it calls the paper's; else the first day that isn't a term. Empty where there is none.
pub fn day(rows: &[PaperRow], order: DateOrder) -> String {
    let found: Vec<(bool, NaiveDate)> = rows.iter().flat_map(|row| days_of(&row.text, order)).collect();
    let named = found.iter().find(|(named, _)| *named).or_else(|| found.first());
    named.map(|(_, day)| day.format("%Y-%m-%d").to_string()).unwrap_or_default()
}

/// Days of a row that are no terms, each with whether it is called a date: by its own piece, or by the one before it.
fn days_of(text: &str, order: DateOrder) -> Vec<(bool, NaiveDate)> {
    let (mut days, mut before) = (Vec::new(), String::new());
    for piece in text.split("  ") {
        let Some(day) = in_text(piece, order) else {
            before = words::plain(piece);
            continue;
        };
        let called = format!("{before} {}", words::plain(piece));
        before.clear();
        if !holds(&called, words::OTHER_DAYS) {
            days.push((holds(&called, &["date", "fecha"]), day));
        }
    }
    days
}

/// Whether a word is a date of digits in any order.
pub fn is_date(word: &str) -> bool {
    of_digits(word, DateOrder::YearMonthDay).is_some()
}

fn in_text(text: &str, order: DateOrder) -> Option<NaiveDate> {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.iter().find_map(|word| of_digits(word, order)).or_else(|| with_month(&words))
}

fn of_digits(word: &str, order: DateOrder) -> Option<NaiveDate> {
    let bare = word.trim_matches(|c: char| !c.is_ascii_digit());
    let mark = bare.chars().find(|c| !c.is_ascii_digit()).filter(|mark| matches!(mark, '/' | '-' | '.'))?;
    let parts: Vec<&str> = bare.split(mark).collect();
    let [a, b, c] = parts.as_slice() else { return None };
    let number = |part: &str| part.parse::<u32>().ok().filter(|_| (1..=4).contains(&part.len()));
    let (first, second, third) = (number(a)?, number(b)?, number(c)?);
    if a.len() == 4 {
        return made(first, second, third);
    }
    let year = match c.len() {
        4 => third,
        2 => 2000 + third,
        _ => return None,
    };
    // A day beyond the twelfth says by itself which is which.
    let month_first = match order {
        DateOrder::MonthDayYear => first <= 12,
        DateOrder::DayMonthYear | DateOrder::YearMonthDay => second > 12,
    };
    if month_first { made(year, first, second) } else { made(year, second, first) }
}

/// `30 Nov 2026`, `November 30, 2026`, `30 de noviembre de 2026`.
fn with_month(words: &[&str]) -> Option<NaiveDate> {
    let plain: Vec<String> = words.iter().map(|word| words::plain(word)).collect();
    let month_of = |word: &String| {
        let named = |names: &[&str; 2]| word.len() >= 3 && names.iter().any(|name| word.starts_with(name));
        MONTHS.iter().position(named).filter(|_| word.chars().all(char::is_alphabetic))
    };
    plain.iter().enumerate().find_map(|(place, word)| {
        let month = u32::try_from(month_of(word)? + 1).ok()?;
        let from = place.saturating_sub(2);
        let near = plain.iter().skip(from).take(place - from + 4).filter_map(|word| word.parse::<u32>().ok());
        let near: Vec<u32> = near.collect();
        let day = near.iter().copied().find(|number| (1..=31).contains(number))?;
        let year = near.iter().copied().find(|number| *number > 31)?;
        made(year, month, day)
    })
}

/// A day of this century.
fn made(year: u32, month: u32, day: u32) -> Option<NaiveDate> {
    let day = NaiveDate::from_ymd_opt(i32::try_from(year).ok()?, month, day)?;
    (2000..2100).contains(&day.year()).then_some(day)
}
