//! An estimate: what the customer is asked to approve.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::MoneyError;
use crate::line::Line;
use crate::percent::TaxRate;
use crate::tax::TaxBasis;
use crate::totals::{Totals, totals};

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
}

impl Estimate {
    /// Subtotals, tax, total.
    pub fn totals(&self) -> Result<Totals, MoneyError> {
        totals(&self.lines, self.tax_rate, self.tax_basis)
    }

    /// The next version with other lines, same tax.
    pub fn revised(&self, lines: Vec<Line>) -> Result<Estimate, MoneyError> {
        let version = self.version.checked_add(1).ok_or(MoneyError::TooLarge)?;
        Ok(Estimate { version, lines, ..*self })
    }
}
