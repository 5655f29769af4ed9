//! An invoice: what the customer pays, held against what was approved.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::approval::{MarginRule, Refusal, may_bill};
use crate::cents::Cents;
use crate::error::MoneyError;
use crate::line::Line;
use crate::percent::TaxRate;
use crate::tax::TaxBasis;
use crate::totals::{Totals, totals};

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
}

impl Invoice {
    /// Subtotals, tax, total.
    pub fn totals(&self) -> Result<Totals, MoneyError> {
        totals(&self.lines, self.tax_rate, self.tax_basis)
    }

    /// Whether it may be billed against an approved total. The outer error is a line that can't be
    /// added up; the inner one is the refusal to show.
    pub fn against(&self, approved: Cents, margin: &MarginRule) -> Result<Result<(), Refusal>, MoneyError> {
        may_bill(self.totals()?.total, approved, margin)
    }

    /// What is still to be paid; below zero if too much was paid.
    pub fn balance(&self, payments: &[Cents]) -> Result<Cents, MoneyError> {
        self.totals()?.total.minus(Cents::sum(payments.iter().copied())?)
    }
}
