//! The postings as a plain-text journal that bookkeeping programs read, and as a table.
//!
//! The form is hledger's journal format (hledger manual, "Journal": transactions, `decimal-mark`, commodity before the
//! amount), of which other plain-text accounting programs read the same subset.

use super::{Movement, Posting};

/// A journal in one currency, an ISO 4217 code: one transaction a posting, each with its movements as pairs of lines
/// that add up to nothing.
pub fn text(postings: &[Posting], currency: &str) -> String {
    let mut out = String::from("decimal-mark .\n");
    for posting in postings {
        out.push('\n');
        out.push_str(&heading(posting));
        for movement in &posting.movements {
            out.push_str(&pair(movement, currency));
        }
    }
    out
}

/// A table for a spreadsheet: one row a side of a movement. Amounts have a point before two decimals, and no signs of
/// thousands.
pub fn rows(postings: &[Posting]) -> Vec<[String; 6]> {
    let sides = |posting: &Posting| {
        let row = |account: String, debit: String, credit: String| {
            [
                posting.day.clone(),
                posting.reference.clone(),
                posting.description.clone(),
                account,
                debit,
                credit,
            ]
        };
        let both = posting.movements.iter().flat_map(|movement| {
            let amount = plain(movement.amount.0);
            [
                row(movement.debit.name(), amount.clone(), String::new()),
                row(movement.credit.name(), String::new(), amount),
            ]
        });
        both.collect::<Vec<_>>()
    };
    postings.iter().flat_map(sides).collect()
}

/// Heads of the columns of [`rows`].
pub const COLUMNS: [&str; 6] = ["date", "reference", "description", "account", "debit", "credit"];

/// `2026-11-28 * (reference) description`: what would end the reference or begin a comment is taken out of both.
fn heading(posting: &Posting) -> String {
    let reference = one_line(&posting.reference, &['(', ')', ';', '|']);
    let description = one_line(&posting.description, &[';', '|']);
    let reference = if reference.is_empty() { String::new() } else { format!("({reference}) ") };
    format!("{} * {reference}{description}\n", posting.day)
}

fn pair(movement: &Movement, currency: &str) -> String {
    let amount = plain(movement.amount.0);
    format!(
        "    {}  {currency} {amount}\n    {}  {currency} -{amount}\n",
        movement.debit.name(),
        movement.credit.name()
    )
}

fn one_line(text: &str, taken_out: &[char]) -> String {
    let kept = text.chars().map(|c| if c.is_control() || taken_out.contains(&c) { ' ' } else { c });
    kept.collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ")
}

fn plain(cents: i64) -> String {
    format!("{}.{:02}", cents / 100, (cents % 100).abs())
}
