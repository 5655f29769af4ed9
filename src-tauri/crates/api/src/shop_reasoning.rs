//! A job's reasoning with what the shop knows beside it.

use job::Reasoning;
use money::Cents;
use std::collections::BTreeMap;

/// A job's reasoning and what of the shop's it was made with.
pub(crate) struct ShopReasoning {
    pub reasoning: Reasoning,
    /// Closed jobs of the shop that count.
    pub closed_jobs: BTreeMap<String, u32>,
    pub price: Option<BuyPrice>,
    pub labour_rate: Cents,
}

/// What buying the module now would cost.
#[derive(Clone, Copy)]
pub(crate) struct BuyPrice {
    pub part: Cents,
    pub programming: Cents,
    /// `typed`, or `estimate` when it is the latest estimate's.
    pub from: &'static str,
}

/// Cents as the engine weighs them: 2^53 cents are more than any part costs.
pub(crate) fn cents(amount: Cents) -> f64 {
    amount.0 as f64
}
