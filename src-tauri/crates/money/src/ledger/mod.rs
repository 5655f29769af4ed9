//! Double entry: every movement takes an amount from one account and puts it into another, so that the sum over all
//! accounts is always zero.
//!
//! The accounts are those of one shop in one currency. What is posted here is what records say; nothing is estimated,
//! depreciated or closed. A bookkeeper reads it on as a [`journal`].

mod account;
pub mod journal;
mod post;

pub use account::{Account, CostKind, Means};
pub use post::{
    Posting, bill, credit, deposit, deposit_back, deposit_taken_up, invoice, payment, refund,
    supplier_credit, supplier_paid,
};

use std::collections::BTreeMap;

use crate::cents::Cents;
use crate::error::MoneyError;

/// One amount on its way from one account to another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Movement {
    /// Where it goes: this account is debited.
    pub debit: Account,
    /// Where it comes from: this account is credited.
    pub credit: Account,
    /// How much, at or above zero.
    pub amount: Cents,
}

impl Movement {
    /// An amount below zero goes the other way. None for nothing.
    pub(crate) fn new(
        debit: Account,
        credit: Account,
        amount: Cents,
    ) -> Result<Option<Movement>, MoneyError> {
        Ok(match amount.0 {
            0 => None,
            1.. => Some(Movement { debit, credit, amount }),
            ..0 => Some(Movement { debit: credit, credit: debit, amount: Cents::ZERO.minus(amount)? }),
        })
    }
}

/// What stands on each account: debits less credits. The sum of all is zero.
///
/// # Errors
/// [`MoneyError::TooLarge`] where sums don't fit.
pub fn balances<'a>(
    movements: impl IntoIterator<Item = &'a Movement>,
) -> Result<BTreeMap<Account, Cents>, MoneyError> {
    let mut sums: BTreeMap<Account, Cents> = BTreeMap::new();
    for movement in movements {
        let debit = sums.entry(movement.debit.clone()).or_default();
        *debit = debit.plus(movement.amount)?;
        let credit = sums.entry(movement.credit.clone()).or_default();
        *credit = credit.minus(movement.amount)?;
    }
    Ok(sums)
}

#[cfg(test)]
mod tests;
