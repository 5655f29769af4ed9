//! A programming tool that the shop might buy: what is offered, and how many jobs are expected to need it.

use crate::routes::{Source, keep};
use money::tool_purchase::{Demand, ToolOffer};
use money::{Cents, Marks, MoneyError, Percent};
use serde::{Deserialize, Serialize};

/// What a shop has set about a tool; what it left open is as judged.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct ToolSettings {
    /// Price.
    pub price: Option<Cents>,
    /// Training, paid at the start.
    pub training: Option<Cents>,
    /// Paid at the start of each year.
    pub yearly_subscription: Option<Cents>,
    /// What it still brings at the end.
    pub resale: Option<Cents>,
    /// Months looked ahead, 1 to 600.
    pub months: Option<u32>,
    /// Discount rate per year.
    pub discount: Option<Percent>,
    /// Share of the jobs that the tool can do.
    pub coverage: Option<Percent>,
    /// Modules to be programmed in a year, before the shop's own jobs are counted: 1 to 2,000.
    pub yearly_jobs: Option<u32>,
}

/// The most months looked ahead, and the most modules a year, that can be set.
const MOST_MONTHS: u32 = 600;
const MOST_YEARLY_JOBS: u32 = 2_000;
/// Modules a year while nobody says otherwise (judgment).
const YEARLY_JOBS: u32 = 12;

impl ToolSettings {
    /// What is set, or judged: a middling tool at a middling price. Every number is a judgment, to be replaced by the offer
    /// that the shop has before it.
    ///
    /// # Errors
    /// [`MoneyError`] when a share is out of its range.
    pub fn offer(&self) -> Result<ToolOffer, MoneyError> {
        Ok(ToolOffer {
            price: self.price.unwrap_or(Cents(200_000)),
            training: self.training.unwrap_or(Cents(25_000)),
            yearly_subscription: self.yearly_subscription.unwrap_or(Cents(40_000)),
            resale: self.resale.unwrap_or(Cents(50_000)),
            months: self.months.unwrap_or(36),
            discount: self.discount.map_or_else(|| Percent::from_parts(8_000), Ok)?,
            coverage: self.coverage.map_or_else(|| Percent::from_parts(70_000), Ok)?,
        })
    }

    /// Modules a year, set or judged.
    #[must_use]
    pub fn yearly_jobs(&self) -> u32 {
        self.yearly_jobs.unwrap_or(YEARLY_JOBS)
    }

    /// How many modules a month need programming: what is set or judged, counted like the fewest whole months that say it
    /// (1 to 12), and what was seen.
    #[must_use]
    pub fn demand(&self, jobs: u32, months: u32) -> Demand {
        let a_year = self.yearly_jobs().max(1);
        let whole = |months: &u32| a_year.saturating_mul(*months).is_multiple_of(12);
        let assumed_months = (1..=12).find(whole).unwrap_or(12);
        let assumed_jobs = (a_year.saturating_mul(assumed_months) / 12).max(1);
        Demand { assumed_jobs, assumed_months, jobs, months }
    }

    /// Sets a number as it was typed, an amount with the marks of the shop's region; nothing typed puts the judgment back.
    ///
    /// # Errors
    /// What can't be read, is below zero or out of range; `None` for a name that isn't known.
    pub fn set(&mut self, name: &str, typed: &str, home: Option<Marks>) -> Option<Result<(), MoneyError>> {
        let amount = |typed: &str| Cents::price_at_home(typed, home);
        let share = |typed: &str| typed.parse::<Percent>();
        Some(match name {
            "tool_price" => keep(&mut self.price, typed, amount),
            "training" => keep(&mut self.training, typed, amount),
            "yearly_subscription" => keep(&mut self.yearly_subscription, typed, amount),
            "resale" => keep(&mut self.resale, typed, amount),
            "months" => keep(&mut self.months, typed, |typed| count(typed, MOST_MONTHS)),
            "discount" => keep(&mut self.discount, typed, share),
            "coverage" => keep(&mut self.coverage, typed, share),
            "yearly_jobs" => keep(&mut self.yearly_jobs, typed, |typed| count(typed, MOST_YEARLY_JOBS)),
            _ => return None,
        })
    }
}

/// Where a number comes from that is set or judged.
#[must_use]
pub fn source<T>(setting: Option<&T>) -> Source {
    if setting.is_some() { Source::Setting } else { Source::Judgment }
}

/// A whole number from 1 to `most`.
pub(crate) fn count(typed: &str, most: u32) -> Result<u32, MoneyError> {
    let text = typed.to_owned();
    if typed.starts_with(['-', '\u{2212}']) {
        return Err(MoneyError::BelowZero { text });
    }
    let digits = !typed.is_empty() && typed.bytes().all(|byte| byte.is_ascii_digit());
    if !digits || typed.bytes().all(|byte| byte == b'0') {
        return Err(MoneyError::NotAnAmount { text });
    }
    let within = typed.parse::<u32>().ok().filter(|count| *count <= most);
    within.ok_or_else(|| MoneyError::OverLimit { text, most: most.to_string() })
}
