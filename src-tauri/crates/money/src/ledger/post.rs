//! What happens, as movements.

use super::Movement;
use super::account::{Account, CostKind, Means};
use crate::cents::Cents;
use crate::error::MoneyError;
use crate::line::Subtotal;
use crate::totals::Totals;

/// What happened on one day, with its movements.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Posting {
    /// Day, `YYYY-MM-DD`.
    pub day: String,
    /// Number of the paper: the invoice, the supplier's bill, the check; may be empty.
    pub reference: String,
    /// What it was, in words.
    pub description: String,
    /// Its movements.
    pub movements: Vec<Movement>,
}

/// An invoice: the customers owe its total, which is sales and tax.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn invoice(totals: &Totals) -> Result<Vec<Movement>, MoneyError> {
    let sides = [
        (Account::Sales(Subtotal::Parts), totals.parts),
        (Account::Sales(Subtotal::Labor), totals.labor),
        (Account::Sales(Subtotal::Sublet), totals.sublet),
        (Account::Sales(Subtotal::Other), totals.other),
        (Account::SalesTax, totals.tax),
    ];
    let movements = sides.into_iter().map(|(from, amount)| Movement::new(Account::Customers, from, amount));
    Ok(movements.collect::<Result<Vec<_>, _>>()?.into_iter().flatten().collect())
}

/// A credit note: an invoice the other way round.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn credit(totals: &Totals) -> Result<Vec<Movement>, MoneyError> {
    let turned = |m: Movement| Movement { debit: m.credit, credit: m.debit, amount: m.amount };
    Ok(invoice(totals)?.into_iter().map(turned).collect())
}

/// Money from the customer for what was billed.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn payment(means: Means, amount: Cents) -> Result<Vec<Movement>, MoneyError> {
    one(Account::Funds(means), Account::Customers, amount)
}

/// Money from the customer ahead of an invoice.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn deposit(means: Means, amount: Cents) -> Result<Vec<Movement>, MoneyError> {
    one(Account::Funds(means), Account::Deposits, amount)
}

/// Of what was paid ahead, what an invoice takes up.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn deposit_taken_up(amount: Cents) -> Result<Vec<Movement>, MoneyError> {
    one(Account::Deposits, Account::Customers, amount)
}

/// Of what was paid ahead, what goes back to the customer.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn deposit_back(means: Means, amount: Cents) -> Result<Vec<Movement>, MoneyError> {
    one(Account::Deposits, Account::Funds(means), amount)
}

/// Money back to the customer.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn refund(means: Means, amount: Cents) -> Result<Vec<Movement>, MoneyError> {
    one(Account::Customers, Account::Funds(means), amount)
}

/// A supplier's bill. The deposit on a core is no cost: it comes back.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn bill(supplier: &str, what: CostKind, amount: Cents) -> Result<Vec<Movement>, MoneyError> {
    one(cost(what), Account::Supplier(supplier.to_owned()), amount)
}

/// What a supplier takes back or gives credit for.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn supplier_credit(supplier: &str, what: CostKind, amount: Cents) -> Result<Vec<Movement>, MoneyError> {
    one(Account::Supplier(supplier.to_owned()), cost(what), amount)
}

/// Money to a supplier.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn supplier_paid(supplier: &str, means: Means, amount: Cents) -> Result<Vec<Movement>, MoneyError> {
    one(Account::Supplier(supplier.to_owned()), Account::Funds(means), amount)
}

fn cost(what: CostKind) -> Account {
    match what {
        CostKind::Core => Account::CoreDeposits,
        kind => Account::Costs(kind),
    }
}

fn one(debit: Account, credit: Account, amount: Cents) -> Result<Vec<Movement>, MoneyError> {
    Ok(Movement::new(debit, credit, amount)?.into_iter().collect())
}
