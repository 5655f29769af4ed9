//! The accounts of a repair shop.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::line::Subtotal;

/// How money changes hands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Means {
    /// Bills and coins.
    Cash,
    /// A card.
    Card,
    /// A check.
    Check,
    /// A bank transfer.
    Transfer,
}

/// What a supplier is paid for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CostKind {
    /// A part.
    Part,
    /// The deposit on an old part: it comes back with the part.
    Core,
    /// Work at the vehicle.
    #[serde(rename = "labour")]
    Labor,
    /// Other work done by somebody else.
    Sublet,
    /// Programming a module.
    Programming,
    /// Anything else.
    Other,
}

/// An account.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Account {
    /// What the customers owe; below zero what they were given credit for.
    Customers,
    /// What customers paid ahead of an invoice: theirs until one takes it up.
    Deposits,
    /// Money at hand and at the bank, by the way it came.
    Funds(Means),
    /// Core deposits that suppliers owe back.
    CoreDeposits,
    /// What the shop owes a supplier.
    Supplier(String),
    /// Sales tax, owed to the office.
    SalesTax,
    /// What was sold.
    Sales(Subtotal),
    /// What was bought.
    Costs(CostKind),
}

impl Account {
    /// Its name in a plain-text journal: parts between colons, the first of them one of the five kinds of accounts.
    /// A supplier's name loses what such a file would read as something else.
    pub fn name(&self) -> String {
        match self {
            Account::Customers => "assets:customers".to_owned(),
            Account::Deposits => "liabilities:customer deposits".to_owned(),
            Account::Funds(means) => format!("assets:funds:{}", means.code()),
            Account::CoreDeposits => "assets:core deposits".to_owned(),
            Account::Supplier(name) => format!("liabilities:suppliers:{}", plain(name)),
            Account::SalesTax => "liabilities:sales tax".to_owned(),
            Account::Sales(Subtotal::Parts) => "income:parts".to_owned(),
            Account::Sales(Subtotal::Labor) => "income:labor".to_owned(),
            Account::Sales(Subtotal::Sublet) => "income:sublet".to_owned(),
            Account::Sales(Subtotal::Other) => "income:other".to_owned(),
            Account::Costs(kind) => format!("expenses:{}", kind.code()),
        }
    }
}

impl Means {
    /// Every way, in the order to offer them.
    pub const ALL: [Means; 4] = [Means::Card, Means::Cash, Means::Check, Means::Transfer];

    /// Its code, as it stands in records.
    pub fn code(self) -> &'static str {
        match self {
            Means::Cash => "cash",
            Means::Card => "card",
            Means::Check => "check",
            Means::Transfer => "transfer",
        }
    }
}

impl CostKind {
    /// The name of its account.
    fn code(self) -> &'static str {
        match self {
            CostKind::Part => "parts",
            CostKind::Core => "cores",
            CostKind::Labor => "labor",
            CostKind::Sublet => "sublet",
            CostKind::Programming => "programming",
            CostKind::Other => "other",
        }
    }
}

/// A name as one part of an account's name: letters and digits of any script, and little else between them.
fn plain(name: &str) -> String {
    let kept = |c: char| if c.is_alphanumeric() || matches!(c, '\'' | '.' | '-' | '&') { c } else { ' ' };
    let words: String = name.chars().map(kept).collect();
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    if words.is_empty() { "unnamed".to_owned() } else { words }
}
