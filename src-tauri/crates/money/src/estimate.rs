//! An estimate: what the customer is asked to approve.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::MoneyError;
use crate::line::Line;
use crate::percent::TaxRate;
use crate::tax::{TaxBasis, is_on_top};
use crate::totals::{Taxation, Totals};

/// One version of an estimate. Versions count from 1 and are never changed: more work means a new one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Estimate {
    /// 1 for the first.
    pub version: u32,
    /// What is charged for.
    pub lines: Vec<Line>,
    /// Sales tax rate.
    pub tax_rate: TaxRate,
    /// What the tax is rounded on.
    pub tax_basis: TaxBasis,
    /// The prices have the tax in them. On older papers it always came on top.
    #[serde(default, skip_serializing_if = "is_on_top")]
    pub tax_included: bool,
}

impl Estimate {
    /// How its tax is reckoned.
    #[must_use]
    pub fn taxation(&self) -> Taxation {
        Taxation { rate: self.tax_rate, basis: self.tax_basis, included: self.tax_included }
    }

    /// Subtotals, tax, total. The total is at or above zero.
    ///
    /// # Errors
    /// Those of [`Taxation::totals`], and [`MoneyError::TotalBelowZero`].
    pub fn totals(&self) -> Result<Totals, MoneyError> {
        let totals = self.taxation().totals(&self.lines)?;
        totals.check()?;
        Ok(totals)
    }

    /// Refuses what must not enter a record. Estimates already on record are shown as they are.
    ///
    /// # Errors
    /// [`MoneyError::NoVersion`], [`MoneyError::NoLines`], and those of [`Estimate::totals`].
    pub fn check(&self) -> Result<(), MoneyError> {
        if self.version == 0 {
            return Err(MoneyError::NoVersion);
        }
        if self.lines.is_empty() {
            return Err(MoneyError::NoLines);
        }
        self.totals().map(drop)
    }

    /// The next version with other lines, same tax.
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`] after the last version that can be counted.
    pub fn revised(&self, lines: Vec<Line>) -> Result<Estimate, MoneyError> {
        let version = self.version.checked_add(1).ok_or(MoneyError::TooLarge)?;
        Ok(Estimate { version, lines, ..*self })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cents::Cents;
    use crate::line::LineKind;
    use crate::quantity::Quantity;

    fn estimate(lines: &[(LineKind, i64)]) -> Estimate {
        let line = |(kind, price): &(LineKind, i64)| Line::new(*kind, "work", Quantity::ONE, Cents(*price));
        let lines = lines.iter().map(line).collect();
        Estimate {
            version: 1,
            lines,
            tax_rate: TaxRate::ZERO,
            tax_basis: TaxBasis::Invoice,
            tax_included: false,
        }
    }

    #[test]
    fn an_error_says_which_line() {
        let lines = [(LineKind::Labor, 100), (LineKind::Discount, -50), (LineKind::Fee, -1)];
        let error = estimate(&lines).check().unwrap_err();
        assert_eq!((error.line(), error.cause()), (Some(3), &MoneyError::NegativePrice));
        assert_eq!(
            error.to_string(),
            "line 3: the price is below zero: use a discount or a core credit line for that"
        );
        assert_eq!(error.clone().on_line(7), error);
    }

    #[test]
    fn deductions_never_take_the_total_below_zero() {
        let even = estimate(&[(LineKind::Labor, 100), (LineKind::Discount, -100)]);
        assert_eq!(even.check(), Ok(()));
        let below = estimate(&[(LineKind::Labor, 100), (LineKind::CoreCredit, -101)]);
        assert_eq!(below.check(), Err(MoneyError::TotalBelowZero { total: "-0.01".into() }));
        assert!(below.totals().is_err());
        assert_eq!(below.check().unwrap_err().line(), None);
    }

    #[test]
    fn what_charges_for_nothing_is_no_estimate() {
        assert_eq!(estimate(&[]).check(), Err(MoneyError::NoLines));
        let unnumbered = Estimate { version: 0, ..estimate(&[(LineKind::Labor, 100)]) };
        assert_eq!(unnumbered.check(), Err(MoneyError::NoVersion));
    }
}
