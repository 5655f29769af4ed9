//! A bill held against what was approved, line by line.
//!
//! A total alone hides a used part billed for a new one, another business that did the work, and money moved from
//! one line to another. So each billed line is looked up among the approved ones: same kind, same words.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::approval::MarginRule;
use crate::cents::Cents;
use crate::error::MoneyError;
use crate::line::Line;

/// What the customer said to one line of an estimate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LineAnswer {
    /// It may be done and billed.
    Approved,
    /// It is not wanted.
    Declined,
    /// It is to wait for another time.
    Deferred,
}

/// A line of an estimate with what the customer said to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AnsweredLine<'a> {
    /// The line.
    pub line: &'a Line,
    /// What was said to it.
    pub answer: LineAnswer,
}

/// How a billed line differs from what was approved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Difference {
    /// No line of the estimate has this kind and these words.
    NotEstimated,
    /// The customer declined the line.
    Declined,
    /// The customer put the line off.
    Deferred,
    /// New, used, rebuilt: another one than approved.
    Condition,
    /// Another part number.
    PartNumber,
    /// Another business does the work.
    Provider,
    /// Taxed, and approved without tax.
    Taxed,
    /// More hours or pieces.
    Quantity,
    /// A higher price.
    Price,
    /// With what was billed before it comes to more than was approved.
    BilledBefore,
}

/// A billed line that the approval doesn't cover as it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Deviation {
    /// Position of the billed line, from 1.
    pub line: usize,
    /// How it differs.
    pub difference: Difference,
    /// What was approved, as it stands in the estimate; empty where there is nothing to show. Amounts in cents.
    pub approved: String,
    /// What is billed, in the same form.
    pub billed: String,
}

/// How far amounts may pass what was approved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Lenience {
    /// The region's margin.
    pub margin: MarginRule,
    /// The margin holds for each line; otherwise for the total, which [`crate::may_bill`] holds it against.
    pub per_line: bool,
    /// The prices have the tax in them: whether a line is taxed changes nothing of what is paid.
    pub tax_included: bool,
}

/// Every billed line that differs from what was approved, in the order of the bill; one difference a line, the
/// gravest first. Deductions are never held against an approval: they only lower what is owed. `before` are the lines of
/// earlier invoices of the same job, `credited` those of its credit notes, all prices as they were billed.
///
/// # Errors
/// [`MoneyError::TooLarge`] where amounts don't fit.
pub fn deviations(
    estimate: &[AnsweredLine<'_>],
    before: &[&Line],
    credited: &[&Line],
    bill: &[Line],
    lenience: &Lenience,
) -> Result<Vec<Deviation>, MoneyError> {
    let mut used = vec![Cents::ZERO; estimate.len()];
    for line in before {
        take(estimate, &mut used, line, line.amount()?)?;
    }
    for line in credited {
        take(estimate, &mut used, line, Cents::ZERO.minus(line.amount()?)?)?;
    }
    let mut found = Vec::new();
    for (line, position) in bill.iter().zip(1..) {
        if line.kind.is_deduction() {
            continue;
        }
        if let Some((difference, approved, billed)) = difference(estimate, &mut used, line, lenience)? {
            found.push(Deviation { line: position, difference, approved, billed });
        }
    }
    Ok(found)
}

type Shown = (Difference, String, String);

/// The least grave difference among the lines it may stand for; the amount is taken from that line.
fn difference(
    estimate: &[AnsweredLine<'_>],
    used: &mut [Cents],
    line: &Line,
    lenience: &Lenience,
) -> Result<Option<Shown>, MoneyError> {
    let mut best: Option<(usize, (usize, Cents), Option<Shown>)> = None;
    for place in places(estimate, line) {
        let (Some(agreed), Some(before)) = (estimate.get(place), used.get(place)) else { continue };
        let seen = against(agreed, *before, line, lenience)?;
        // Of several that fit, the tightest: a larger one is kept for a larger line.
        let rank = (grade(seen.as_ref()), agreed.line.amount()?.minus(*before)?);
        if best.as_ref().is_none_or(|(_, least, _)| rank < *least) {
            best = Some((place, rank, seen));
        }
    }
    let Some((place, _, seen)) = best else {
        return Ok(Some((Difference::NotEstimated, String::new(), line.description.clone())));
    };
    if let Some(used) = used.get_mut(place) {
        *used = used.plus(line.amount()?)?;
    }
    Ok(seen)
}

/// Adds an amount to the line that it was billed on, or to the first of several alike that has room.
fn take(
    estimate: &[AnsweredLine<'_>],
    used: &mut [Cents],
    line: &Line,
    amount: Cents,
) -> Result<(), MoneyError> {
    let mut places: Vec<usize> = places(estimate, line).collect();
    places.sort_by_key(|place| !fits(estimate, used, *place, amount));
    if let Some(used) = places.first().and_then(|place| used.get_mut(*place)) {
        *used = used.plus(amount)?;
    }
    Ok(())
}

fn fits(estimate: &[AnsweredLine<'_>], used: &[Cents], place: usize, amount: Cents) -> bool {
    let after = used.get(place).and_then(|used| used.plus(amount).ok());
    let approved = estimate.get(place).and_then(|agreed| agreed.line.amount().ok());
    after.zip(approved).is_some_and(|(after, approved)| (Cents::ZERO..=approved).contains(&after))
}

/// Where in the estimate a line of this kind and these words stands.
fn places<'a>(estimate: &'a [AnsweredLine<'_>], line: &'a Line) -> impl Iterator<Item = usize> + use<'a> {
    let same = |agreed: &AnsweredLine<'_>| {
        agreed.line.kind == line.kind && words(&agreed.line.description) == words(&line.description)
    };
    estimate.iter().enumerate().filter(move |(_, agreed)| same(agreed)).map(|(place, _)| place)
}

/// Words as they are compared: upper and lower case, and how many spaces stand between them, mean nothing.
fn words(text: &str) -> String {
    text.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>().join(" ")
}

/// Graver differences stand further back.
fn grade(seen: Option<&Shown>) -> usize {
    const ORDER: [Difference; 10] = [
        Difference::BilledBefore,
        Difference::Price,
        Difference::Quantity,
        Difference::Taxed,
        Difference::PartNumber,
        Difference::Provider,
        Difference::Condition,
        Difference::Deferred,
        Difference::Declined,
        Difference::NotEstimated,
    ];
    seen.map_or(0, |(difference, ..)| {
        ORDER.iter().position(|known| known == difference).unwrap_or(ORDER.len()).saturating_add(1)
    })
}

fn against(
    agreed: &AnsweredLine<'_>,
    before: Cents,
    line: &Line,
    lenience: &Lenience,
) -> Result<Option<Shown>, MoneyError> {
    let approved = agreed.line;
    match agreed.answer {
        LineAnswer::Declined => return Ok(Some(shown(Difference::Declined, "", &line.description))),
        LineAnswer::Deferred => return Ok(Some(shown(Difference::Deferred, "", &line.description))),
        LineAnswer::Approved => {}
    }
    if line.condition != approved.condition {
        let code = |line: &Line| line.condition.map(|c| c.code()).unwrap_or_default();
        return Ok(Some(shown(Difference::Condition, code(approved), code(line))));
    }
    if !same_name(line.provider.as_deref(), approved.provider.as_deref()) {
        let name = |line: &Line| line.provider.clone().unwrap_or_default();
        return Ok(Some((Difference::Provider, name(approved), name(line))));
    }
    // A number that was not known when the estimate was written may be filled in.
    let numbered = approved.part_number.as_deref().is_some_and(|number| !number.trim().is_empty());
    if numbered && !same_name(line.part_number.as_deref(), approved.part_number.as_deref()) {
        let number = |line: &Line| line.part_number.clone().unwrap_or_default();
        return Ok(Some((Difference::PartNumber, number(approved), number(line))));
    }
    if line.taxed && !approved.taxed && !lenience.tax_included {
        return Ok(Some(shown(Difference::Taxed, "", "")));
    }
    amounts(approved, before, line, lenience)
}

/// Amounts: exact where there is no margin; within the line's margin where it holds by line; left to the total where the
/// margin is on the total.
fn amounts(
    approved: &Line,
    before: Cents,
    line: &Line,
    lenience: &Lenience,
) -> Result<Option<Shown>, MoneyError> {
    let agreed = approved.amount()?;
    let margin = lenience.margin.margin_on(agreed);
    if margin > Cents::ZERO && !lenience.per_line {
        return Ok(None);
    }
    let allowed = agreed.plus(margin)?;
    let amount = line.amount()?;
    if amount > allowed {
        let more = line.quantity > approved.quantity;
        return Ok(Some(match more {
            true => (Difference::Quantity, approved.quantity.to_string(), line.quantity.to_string()),
            false => (Difference::Price, String::from(approved.unit_price), String::from(line.unit_price)),
        }));
    }
    if before.plus(amount)? > allowed {
        return Ok(Some((Difference::BilledBefore, String::from(agreed), String::from(before))));
    }
    Ok(None)
}

fn shown(difference: Difference, approved: &str, billed: &str) -> Shown {
    (difference, approved.to_owned(), billed.to_owned())
}

fn same_name(left: Option<&str>, right: Option<&str>) -> bool {
    words(left.unwrap_or_default()) == words(right.unwrap_or_default())
}

#[cfg(test)]
mod tests;
