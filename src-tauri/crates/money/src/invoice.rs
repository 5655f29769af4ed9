//! An invoice: what the customer pays, held against what was approved.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::approval::{MarginRule, Refusal, may_bill};
use crate::cents::Cents;
use crate::error::MoneyError;
use crate::line::Line;
use crate::percent::TaxRate;
use crate::tax::{TaxBasis, is_on_top};
use crate::totals::{Taxation, Totals};

/// An invoice with the version of the estimate it bills.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Invoice {
    /// The shop's own number.
    pub number: String,
    /// The version of the estimate that was approved.
    pub estimate_version: u32,
    /// What is charged for.
    pub lines: Vec<Line>,
    /// Sales tax rate.
    pub tax_rate: TaxRate,
    /// What the tax was rounded on: kept, because the two ways can differ by a cent.
    pub tax_basis: TaxBasis,
    /// The prices have the tax in them. On older papers it always came on top.
    #[serde(default, skip_serializing_if = "is_on_top")]
    pub tax_included: bool,
}

impl Invoice {
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

    /// Refuses what must not enter a record. Invoices already on record are shown as they are. Whether the
    /// approval covers it is asked with [`Invoice::against`].
    ///
    /// # Errors
    /// [`MoneyError::NoVersion`], [`MoneyError::NoLines`], and those of [`Invoice::totals`].
    pub fn check(&self) -> Result<(), MoneyError> {
        if self.estimate_version == 0 {
            return Err(MoneyError::NoVersion);
        }
        if self.lines.is_empty() {
            return Err(MoneyError::NoLines);
        }
        self.totals().map(drop)
    }

    /// Whether it may be billed against an approved total: the inner [`Refusal`] is what to show if not.
    ///
    /// # Errors
    /// Those of [`Invoice::totals`] and of [`may_bill`].
    pub fn against(&self, approved: Cents, margin: &MarginRule) -> Result<Result<(), Refusal>, MoneyError> {
        may_bill(self.totals()?.total, approved, margin)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::line::{Condition, LineKind};
    use crate::quantity::Quantity;

    fn invoice(basis: TaxBasis) -> Invoice {
        let part = Line {
            taxed: true,
            condition: Some(Condition::New),
            ..Line::new(LineKind::Part, "Relay", Quantity::ONE, Cents(50))
        };
        let labor = Line::new(LineKind::Labor, "Fit", Quantity::from_thousandths(1_250), Cents(12_000));
        Invoice {
            number: "17".into(),
            estimate_version: 2,
            lines: vec![part.clone(), part, labor],
            tax_rate: "7".parse().unwrap(),
            tax_basis: basis,
            tax_included: false,
        }
    }

    /// Worked by hand from the rule of R.I. Gen. Laws 44-18.1-25: 7 % of 0.50 is 0.035, so 0.04 a line,
    /// 0.08 for two; 7 % of 1.00 is 0.07.
    #[test]
    fn tax_per_line_and_per_invoice_differ_by_a_cent() {
        let by_invoice = invoice(TaxBasis::Invoice).totals().unwrap();
        let by_line = invoice(TaxBasis::Line).totals().unwrap();
        assert_eq!((by_invoice.tax, by_invoice.total), (Cents(7), Cents(15_107)));
        assert_eq!((by_line.tax, by_line.total), (Cents(8), Cents(15_108)));
        assert_eq!((by_line.parts, by_line.labor, by_line.taxable), (Cents(100), Cents(15_000), Cents(100)));
    }

    #[test]
    fn a_cent_over_the_approval_is_refused() {
        let invoice = invoice(TaxBasis::Line);
        let refused = invoice.against(Cents(15_107), &MarginRule::default()).unwrap();
        assert_eq!(refused.map_err(|r| r.over), Err(Cents(1)));
    }
    #[test]
    fn what_charges_for_nothing_or_less_is_no_invoice() {
        let good = invoice(TaxBasis::Line);
        assert_eq!(good.check(), Ok(()));
        assert_eq!(Invoice { lines: Vec::new(), ..good.clone() }.check(), Err(MoneyError::NoLines));
        assert_eq!(Invoice { estimate_version: 0, ..good.clone() }.check(), Err(MoneyError::NoVersion));
        let discount = Line::new(LineKind::Discount, "Regular customer", Quantity::ONE, Cents(-15_109));
        let mut below = good;
        below.lines.push(discount);
        assert_eq!(below.check(), Err(MoneyError::TotalBelowZero { total: "-0.01".into() }));
    }
}
