//! Sales tax and value added tax to the cent.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cents::Cents;
use crate::error::MoneyError;
use crate::percent::TaxRate;

/// What the tax is rounded on. Both are allowed by R.I. Gen. Laws 44-18.1-25(B) and M.G.L. c. 64I
/// s. 5 ("an item or an invoice basis"); they can differ by a cent, so the basis stays on the invoice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema, Default)]
#[serde(rename_all = "snake_case")]
pub enum TaxBasis {
    /// Tax on the sum of the taxed lines, rounded once.
    #[default]
    Invoice,
    /// Tax on each taxed line, rounded each time.
    Line,
}

/// Tax on one amount: carried (not rounded) to the third decimal of the currency, then up to the next
/// cent if that third digit is over four (R.I. Gen. Laws 44-18.1-25(A)). An amount below zero gives
/// the same tax with a minus, so that a credit takes back exactly what was charged.
///
/// # Errors
/// [`MoneyError::TooLarge`] if the tax doesn't fit.
pub fn tax_on(amount: Cents, rate: TaxRate) -> Result<Cents, MoneyError> {
    let exact = i128::from(amount.0).unsigned_abs().checked_mul(u128::from(rate.parts()));
    // exact is in cents / 100 000, so a tenth of a cent (the third decimal) is 10 000 of it.
    let to_third_decimal = exact.ok_or(MoneyError::TooLarge)? / 10_000;
    rounded(to_third_decimal, amount)
}

/// The tax that is in an amount paid: the amount times rate / (100 % + rate), rounded as [`tax_on`] rounds. At 20 % that is
/// a sixth, the "VAT fraction" of HM Revenue and Customs ("Calculating VAT for VAT-inclusive and VAT-exclusive prices").
///
/// # Errors
/// [`MoneyError::TooLarge`] if the tax doesn't fit.
pub fn tax_in(amount: Cents, rate: TaxRate) -> Result<Cents, MoneyError> {
    let parts = u128::from(rate.parts());
    let whole = parts.saturating_add(u128::from(TaxRate::HUNDRED.parts()));
    // Tenths of a cent: the third decimal.
    let tenths = i128::from(amount.0).unsigned_abs().checked_mul(parts.saturating_mul(10));
    let to_third_decimal = tenths.ok_or(MoneyError::TooLarge)? / whole;
    rounded(to_third_decimal, amount)
}

/// Up to the next cent where the third decimal is over four, with the sign of the amount.
fn rounded(to_third_decimal: u128, amount: Cents) -> Result<Cents, MoneyError> {
    let up = u128::from(to_third_decimal % 10 > 4);
    let cents = i128::try_from(to_third_decimal / 10 + up).map_err(|_| MoneyError::TooLarge)?;
    Cents::from_wide(cents * i128::from(amount.0.signum()))
}

/// Whether the tax comes on top; then nothing is written of it, as on older papers.
#[allow(clippy::trivially_copy_pass_by_ref)] // serde asks with a reference
#[must_use]
pub fn is_on_top(included: &bool) -> bool {
    !included
}
