//! What the text of a supplier's paper proposes: who wrote it, when, its number, its lines, and sums that add up.
//!
//! Text in, proposal out. Nothing is reckoned into a paper: an amount is proposed only where it was read, and a total that
//! the paper's own lines contradict is never proposed without saying so ([`PaperDoubt`]).

mod dates;
mod items;
mod says;
#[cfg(test)]
mod tests;
mod words;

use crate::rules::Locale;
use money::Cents;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

pub use items::PaperItem;

/// A row is read surely from here on, a probability.
pub const SURE: f64 = 0.9;

/// One row of a paper's text.
#[derive(Clone, Debug, PartialEq)]
pub struct PaperRow {
    /// What it says; two spaces between pieces that stand apart.
    pub text: String,
    /// Probability that all of it was read right, from 0 to 1.
    pub probability: f64,
}

/// Why a total is to be held against the paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum PaperDoubt {
    /// The lines and the tax come to another sum.
    SumsDiffer,
    /// No lines were read that could be added up.
    NoLines,
    /// The row of the total was read unsurely, and no lines prove it.
    ReadUnsurely,
}

/// What a paper proposes. Empty texts and `None` where nothing was found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PaperProposal {
    /// The business that wrote it.
    pub supplier: String,
    /// Day, `YYYY-MM-DD`.
    pub day: String,
    /// Number of the quote, bill or receipt.
    pub number: String,
    /// What was bought, cores among it.
    pub lines: Vec<PaperItem>,
    /// Sum of the lines that are core charges.
    pub core: Option<Cents>,
    /// The tax.
    pub tax: Option<Cents>,
    /// Whether the tax is part of the lines' amounts already.
    pub tax_inside: bool,
    /// What is to be paid.
    pub total: Option<Cents>,
    /// Sum of the lines, with the tax where it comes on top.
    pub adds_up_to: Option<Cents>,
    /// What speaks against the total.
    pub doubts: Vec<PaperDoubt>,
}

/// What a paper says, by how amounts and dates are written at `home`. Suppliers of the shop that stand on it are recognized by name.
#[must_use]
pub fn proposal(rows: &[PaperRow], home: &Locale, suppliers: &[String]) -> PaperProposal {
    let said: Vec<says::Row> = rows.iter().map(|row| says::Row::of(row, home)).collect();
    let lines = items::of(&said);
    let core_lines = lines.iter().filter(|line| line.is_core).map(|line| line.amount);
    let core = Cents::sum(core_lines).ok().filter(|sum| *sum != Cents::ZERO);
    let taxes: Vec<Cents> = amounts(&said, says::Says::Tax).collect();
    let tax = if taxes.is_empty() { None } else { Cents::sum(taxes).ok() };
    let mut proposal = PaperProposal {
        supplier: says::supplier(&said, suppliers),
        day: dates::day(rows, home.date_order),
        number: says::number(&said),
        core,
        tax,
        lines,
        ..PaperProposal::default()
    };
    proposal.weigh(&said);
    proposal
}

fn amounts(said: &[says::Row], what: says::Says) -> impl Iterator<Item = Cents> {
    said.iter().filter(move |row| row.says == what).filter_map(|row| row.amount)
}

impl PaperProposal {
    /// Chooses the total that the lines come to; failing that, the last one that is said, with the doubt.
    fn weigh(&mut self, said: &[says::Row]) {
        let lines = Cents::sum(self.lines.iter().map(|line| line.amount)).ok();
        let on_top = lines.and_then(|sum| sum.plus(self.tax.unwrap_or(Cents::ZERO)).ok());
        let totals: Vec<&says::Row> =
            said.iter().filter(|row| row.says == says::Says::Total && row.amount.is_some()).collect();
        let comes_to = |sum: Option<Cents>| totals.iter().rev().find(|row| row.amount == sum).copied();
        let has_lines = !self.lines.is_empty();
        let proven = has_lines.then(|| comes_to(on_top).or_else(|| comes_to(lines))).flatten();
        let chosen = proven.or_else(|| totals.last().copied());
        self.total = chosen.and_then(|row| row.amount);
        // With the tax inside, what the lines come to is the total itself.
        self.tax_inside =
            self.tax.is_some() && proven.is_some() && self.total == lines && self.total != on_top;
        self.adds_up_to = if self.tax_inside { lines } else { on_top }.filter(|_| has_lines);
        if chosen.is_none() || proven.is_some() {
            return;
        }
        self.doubts.push(if has_lines { PaperDoubt::SumsDiffer } else { PaperDoubt::NoLines });
        if chosen.is_some_and(|row| row.probability < SURE) {
            self.doubts.push(PaperDoubt::ReadUnsurely);
        }
    }
}
