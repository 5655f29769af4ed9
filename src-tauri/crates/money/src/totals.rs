//! Subtotals, tax and total of a list of lines.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cents::Cents;
use crate::error::MoneyError;
use crate::line::{Line, Subtotal};
use crate::percent::TaxRate;
use crate::tax::{TaxBasis, tax_in, tax_on};

/// `parts + labor + sublet + other + tax = total`, to the cent. Where the prices have the tax in them, the four are what is
/// left of them without it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Totals {
    /// Parts and cores.
    pub parts: Cents,
    /// Diagnosis, labor, programming in the shop.
    #[serde(rename = "labour")]
    pub labor: Cents,
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
    sum.total = Cents::sum([sum.parts, sum.labor, sum.sublet, sum.other, sum.tax])?;
    Ok(sum)
}

/// The same for lines whose prices have the tax in them: the total is what the lines come to, and the tax is the part of
/// each taxed line, rounded each time, so that any of the lines credited give back exactly their share.
///
/// # Errors
/// Those of [`totals`].
fn totals_with_tax_inside(lines: &[Line], rate: TaxRate) -> Result<Totals, MoneyError> {
    let mut sum = Totals::default();
    for (index, line) in lines.iter().enumerate() {
        line.check().map_err(|error| error.on_line(index))?;
        let paid = line.amount()?;
        let tax = if line.taxed { tax_in(paid, rate)? } else { Cents::ZERO };
        let net = paid.minus(tax)?;
        sum.add(line.kind.subtotal(), net)?;
        sum.tax = sum.tax.plus(tax)?;
        if line.taxed {
            sum.taxable = sum.taxable.plus(net)?;
        }
        sum.total = sum.total.plus(paid)?;
    }
    Ok(sum)
}

/// How the tax of a paper is reckoned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taxation {
    /// The rate.
    pub rate: TaxRate,
    /// What tax that comes on top is rounded on. Tax inside the prices is always that of each line.
    pub basis: TaxBasis,
    /// The prices have the tax in them: what is typed is what is paid.
    pub included: bool,
}

impl Taxation {
    /// Subtotals, tax and total of lines.
    ///
    /// # Errors
    /// Those of [`totals`].
    pub fn totals(&self, lines: &[Line]) -> Result<Totals, MoneyError> {
        if self.included {
            totals_with_tax_inside(lines, self.rate)
        } else {
            totals(lines, self.rate, self.basis)
        }
    }
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
            Subtotal::Labor => &mut self.labor,
            Subtotal::Sublet => &mut self.sublet,
            Subtotal::Other => &mut self.other,
        };
        *place = place.plus(amount)?;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::line::LineKind;
    use crate::programming::Route;
    use crate::quantity::Quantity;

    /// Names and codes as records have held them from the first: they never change, whatever the code calls them.
    #[test]
    fn what_is_recorded_keeps_its_names() {
        let json = r#"{"parts":"0","labour":"15000","sublet":"0","other":"0","taxable":"0","tax":"0","total":"15000"}"#;
        let totals: Totals = serde_json::from_str(json).unwrap();
        assert_eq!(totals.labor, Cents(15_000));
        assert_eq!(serde_json::to_string(&totals).unwrap(), json);

        let line =
            r#"{"kind":"labour","description":"Fit","quantity":"1.125","unit_price":"12000","taxed":false}"#;
        let read: Line = serde_json::from_str(line).unwrap();
        assert_eq!((read.kind, read.quantity), (LineKind::Labor, Quantity::from_thousandths(1_125)));
        assert_eq!(serde_json::to_string(&read).unwrap(), line);
        assert_eq!(serde_json::to_string(&Subtotal::Labor).unwrap(), "\"labour\"");

        let route = r#"{"kind":"own","provider":"","cash":"4000","cash_retry":"0","labour_hours":"1.5","wait":"0.5","wait_retry":"0.5","success":"88","recovery":"85","attempts":2,"bay":"100","loss":"60000","loss_hours":"24"}"#;
        let read: Route = serde_json::from_str(route).unwrap();
        assert_eq!(read.labor_hours, Quantity::from_thousandths(1_500));
        assert_eq!(serde_json::to_string(&read).unwrap(), route);
    }
}
