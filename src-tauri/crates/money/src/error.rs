//! What can go wrong with money, in words that say what to try.

use thiserror::Error;

/// An amount, a line or a route that can't be used as it stands.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum MoneyError {
    /// The text holds no digits, or something other than digits, separators and a currency sign.
    #[error("{text:?} is not an amount: write digits, such as 12.50 or 12,50")]
    NotAnAmount {
        /// What was typed.
        text: String,
    },
    /// One point followed by three digits: a decimal point or a thousands separator?
    #[error("{text:?} can be read in two ways: write the cents too, such as 1234.00 or 1.23")]
    AmbiguousSeparator {
        /// What was typed.
        text: String,
    },
    /// More decimals than the quantity keeps.
    #[error("{text:?} has too many decimals: at most {most} fit")]
    TooManyDecimals {
        /// What was typed.
        text: String,
        /// How many decimals fit.
        most: u32,
    },
    /// Thousands separators that don't stand in threes.
    #[error("the separators in {text:?} don't group digits in threes: leave them out or correct them")]
    BadGrouping {
        /// What was typed.
        text: String,
    },
    /// A stored whole number of cents or a stored decimal not in its one canonical form.
    #[error("{text:?} is not in the stored form of this value")]
    NotCanonical {
        /// What was read.
        text: String,
    },
    /// The result doesn't fit.
    #[error("the amount is too large to calculate with: check the price and the quantity")]
    TooLarge,
    /// A percentage over one hundred.
    #[error("{text:?} is over 100 %: check the rate")]
    PercentOverHundred {
        /// What was given.
        text: String,
    },
    /// A line needs words a customer can read.
    #[error("line {line} has no description: say what it is for")]
    NoDescription {
        /// Position of the line, from 1.
        line: usize,
    },
    /// A part must be stated as new, used or rebuilt.
    #[error("line {line} is a part without its condition: choose new, used or rebuilt")]
    NoCondition {
        /// Position of the line, from 1.
        line: usize,
    },
    /// Sublet work must name who does it.
    #[error("line {line} is sublet work without a provider: name who does it")]
    NoProvider {
        /// Position of the line, from 1.
        line: usize,
    },
    /// Only discounts and returned cores lower the total.
    #[error("line {line} has a price below zero: use a discount or a core credit line for that")]
    NegativePrice {
        /// Position of the line, from 1.
        line: usize,
    },
    /// A discount or core credit that raises the total.
    #[error("line {line} is a deduction, so its price must be below zero")]
    PositiveDeduction {
        /// Position of the line, from 1.
        line: usize,
    },
    /// A programming route that can't be calculated.
    #[error("this programming route can't be calculated: {0}")]
    Route(&'static str),
    /// A tool purchase that can't be calculated.
    #[error("this purchase can't be calculated: {0}")]
    Purchase(&'static str),
}
