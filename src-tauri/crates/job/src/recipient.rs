//! Who a packet goes to.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Somebody a packet is handed to.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema, TS,
)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum Recipient {
    /// The customer: everything of their own job.
    #[default]
    Customer,
    /// Somebody who decides a dispute: what was agreed and what was measured, by whom.
    Arbiter,
    /// The issuer of the card a payment is disputed with: who agreed to which amount.
    CardIssuer,
    /// The supplier of a part: what was measured on which kind of vehicle; nobody's name.
    Supplier,
}

impl Recipient {
    /// Every recipient, in the order of the screen.
    pub const ALL: [Self; 4] = [Self::Customer, Self::Arbiter, Self::CardIssuer, Self::Supplier];

    /// Code for files, words and the command line.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Customer => "customer",
            Self::Arbiter => "arbiter",
            Self::CardIssuer => "card_issuer",
            Self::Supplier => "supplier",
        }
    }

    /// The recipient with a code.
    #[must_use]
    pub fn of(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|recipient| recipient.code() == code)
    }
}
