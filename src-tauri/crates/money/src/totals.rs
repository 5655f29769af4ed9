//! Subtotals, tax and total of a list of lines.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cents::Cents;
use crate::error::MoneyError;
use crate::line::{Line, Subtotal};
use crate::percent::TaxRate;
use crate::tax::{TaxBasis, tax_on};

/// `parts + labour + sublet + other + tax = total`, to the cent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Totals {
    /// Parts and cores.
    pub parts: Cents,
    /// Diagnosis, labour, programming in the shop.
    pub labour: Cents,
    /// Work done by somebody else.
    pub sublet: Cents,
    /// Supplies, fees, discounts.
    pub other: Cents,
    /// The part of the four subtotals that is taxed.
    pub taxable: Cents,
    /// Sales tax.
    pub tax: Cents,
    /// What the customer pays.
    pub total: Cents,
}

/// Adds up lines. Each line is checked first: see [`Line::check`].
///
/// # Errors
/// [`MoneyError::Line`] with the first line that can't stand; [`MoneyError::TooLarge`].
pub fn totals(lines: &[Line], rate: TaxRate, basis: TaxBasis) -> Result<Totals, MoneyError> {
    let mut sum = Totals::default();
    let mut tax_by_line = Cents::ZERO;
    for (index, line) in lines.iter().enumerate() {
        line.check().map_err(|error| error.on_line(index))?;
        let amount = line.amount()?;
        sum.add(line.kind.subtotal(), amount)?;
        if line.taxed {
            sum.taxable = sum.taxable.plus(amount)?;
            tax_by_line = tax_by_line.plus(tax_on(amount, rate)?)?;
        }
    }
    sum.tax = match basis {
        TaxBasis::Invoice => tax_on(sum.taxable, rate)?,
        TaxBasis::Line => tax_by_line,
    };
    sum.total = Cents::sum([sum.parts, sum.labour, sum.sublet, sum.other, sum.tax])?;
    Ok(sum)
}

impl Totals {
    /// Refuses a total that nobody can pay.
    ///
    /// # Errors
    /// [`MoneyError::TotalBelowZero`].
    pub fn check(&self) -> Result<(), MoneyError> {
        match self.total < Cents::ZERO {
            true => Err(MoneyError::TotalBelowZero { total: self.total.to_string() }),
            false => Ok(()),
        }
    }

    fn add(&mut self, subtotal: Subtotal, amount: Cents) -> Result<(), MoneyError> {
        let place = match subtotal {
            Subtotal::Parts => &mut self.parts,
            Subtotal::Labour => &mut self.labour,
            Subtotal::Sublet => &mut self.sublet,
            Subtotal::Other => &mut self.other,
        };
        *place = place.plus(amount)?;
        Ok(())
    }
}
