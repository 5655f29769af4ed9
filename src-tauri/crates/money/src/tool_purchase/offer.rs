//! What a tool costs and brings, apart from the jobs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cents::Cents;
use crate::error::MoneyError;
use crate::percent::Percent;

/// Longest time looked ahead, in months.
const MOST_MONTHS: u32 = 600;

/// A tool on offer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ToolOffer {
    /// Price.
    pub price: Cents,
    /// Training, paid at the start.
    pub training: Cents,
    /// Paid at the start of each year.
    pub yearly_subscription: Cents,
    /// What it still brings at the end.
    pub resale: Cents,
    /// Months looked ahead, 1 to 600.
    pub months: u32,
    /// Discount rate per year.
    pub discount: Percent,
    /// Share of the jobs that the tool can do.
    pub coverage: Percent,
}

impl ToolOffer {
    /// Refuses an offer whose numbers make no sense.
    ///
    /// # Errors
    /// [`MoneyError::Purchase`] if not 1 to 600 months are looked ahead, or if an amount is below zero.
    pub fn check(&self) -> Result<(), MoneyError> {
        if !(1..=MOST_MONTHS).contains(&self.months) {
            return Err(MoneyError::Purchase("look between 1 and 600 months ahead"));
        }
        let amounts = [self.price, self.training, self.yearly_subscription, self.resale];
        if amounts.iter().any(|amount| *amount < Cents::ZERO) {
            return Err(MoneyError::Purchase("a price is below zero"));
        }
        Ok(())
    }

    /// Present value of everything but the jobs; below zero for most tools.
    pub(super) fn fixed_worth(&self) -> f64 {
        let yearly = 1.0 + self.discount.as_f64();
        let years = 0..self.months.div_ceil(12);
        let subscriptions: f64 =
            years.map(|y| self.yearly_subscription.major() / yearly.powf(y.into())).sum();
        let resale = self.resale.major() / yearly.powf(f64::from(self.months) / 12.0);
        resale - self.price.major() - self.training.major() - subscriptions
    }

    /// Present value of one unit saved each month, at the end of the month.
    pub(super) fn annuity(&self) -> f64 {
        let yearly = 1.0 + self.discount.as_f64();
        (1..=self.months).map(|month| yearly.powf(-f64::from(month) / 12.0)).sum()
    }

    /// Paid by the end of `months`, not discounted.
    pub(super) fn paid_by(&self, months: u32) -> f64 {
        let years = f64::from(months.div_ceil(12));
        self.price.major() + self.training.major() + self.yearly_subscription.major() * years
    }
}
