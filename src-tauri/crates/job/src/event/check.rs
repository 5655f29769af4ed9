//! Values that no record may hold. The door refuses them; where an older record holds one that can't be reckoned with, the
//! record is shown as unusable and the job goes on without it.

use money::Cents;
use thiserror::Error;

/// A value that no record may hold.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{field}: {why}")]
pub struct Unusable {
    /// Field.
    pub field: &'static str,
    /// What is wrong with it, and what would be right.
    pub why: String,
}

/// Longest text of a field, characters.
pub const LONGEST: usize = 20_000;

impl Unusable {
    /// A field and what is wrong with it.
    pub fn new(field: &'static str, why: impl Into<String>) -> Self {
        Self { field, why: why.into() }
    }
}

/// An amount that is paid, quoted or billed: not below zero and within what a line may hold.
///
/// # Errors
/// [`Unusable`] names the field.
pub fn amount(field: &'static str, amount: Cents) -> Result<(), Unusable> {
    let bounded = amount.within_limit().map_err(|error| Unusable::new(field, error.to_string()))?;
    if bounded.0 < 0 { Err(Unusable::new(field, format!("{amount} is below zero"))) } else { Ok(()) }
}

/// A decimal number within limits, as meters and shares are written down.
///
/// # Errors
/// [`Unusable`] names the field and the limits.
pub fn decimal(field: &'static str, text: &str, least: f64, most: f64) -> Result<(), Unusable> {
    let number = text.parse::<f64>().ok().filter(|number| (least..=most).contains(number));
    number
        .map(|_| ())
        .ok_or_else(|| Unusable::new(field, format!("{text:?} is not a number from {least} to {most}")))
}
