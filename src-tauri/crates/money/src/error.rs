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
    /// One mark before exactly three digits: a decimal mark or thousands?
    #[error("{text:?} can be read in two ways: write {thousands} or {decimal}")]
    AmbiguousSeparator {
        /// What was typed.
        text: String,
        /// How to write it if the mark groups thousands.
        thousands: String,
        /// How to write it if it is the decimal mark.
        decimal: String,
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
    /// Further from zero than anything in a repair shop: a slip of the finger.
    #[error("{text:?} is over {most}, the most that can be entered: check the digits and the decimal mark")]
    OverLimit {
        /// What was typed, or the amount that came out.
        text: String,
        /// The limit, as it is shown.
        most: String,
    },
    /// Below zero where nothing below zero makes sense.
    #[error("{text:?} is below zero, and 0 is the least here: leave the minus out")]
    BelowZero {
        /// What was typed.
        text: String,
    },
    /// A percentage over one hundred.
    #[error("{text:?} is over 100 %: check the rate")]
    PercentOverHundred {
        /// What was given.
        text: String,
    },
    /// An estimate or an invoice without a line.
    #[error("nothing is charged for: add a line")]
    NoLines,
    /// Versions of an estimate count from 1.
    #[error("the version of the estimate is 0: count from 1")]
    NoVersion,
    /// Deductions larger than everything that is charged.
    #[error("the total of {total} is below zero: make the discount or the core credit smaller")]
    TotalBelowZero {
        /// What it adds up to.
        total: String,
    },
    /// A line needs words a customer can read.
    #[error("there is no description: say what the line is for")]
    NoDescription,
    /// A part must be stated as new, used or rebuilt.
    #[error("this is a part without its condition: choose new, used, rebuilt or reconditioned")]
    NoCondition,
    /// Sublet work must name who does it.
    #[error("this is sublet work without a provider: name who does it")]
    NoProvider,
    /// Only discounts and returned cores lower the total.
    #[error("the price is below zero: use a discount or a core credit line for that")]
    NegativePrice,
    /// A discount or core credit that raises the total.
    #[error("this is a deduction, so its price can't be above zero: put a minus in front")]
    PositiveDeduction,
    /// One of the above, on one line of an estimate or an invoice.
    #[error(transparent)]
    Line(#[from] Box<LineProblem>),
    /// A programming route that can't be calculated.
    #[error("this programming route can't be calculated: {0}")]
    Route(&'static str),
    /// A tool purchase that can't be calculated.
    #[error("this purchase can't be calculated: {0}")]
    Purchase(&'static str),
}

/// What is wrong, and on which line.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("line {line}: {error}")]
pub struct LineProblem {
    /// Position of the line, from 1.
    pub line: usize,
    /// What is wrong with it.
    pub error: MoneyError,
}

impl MoneyError {
    /// This error, on the line at `index` (from 0). What already names a line is left as it is.
    #[must_use]
    pub fn on_line(self, index: usize) -> MoneyError {
        match self {
            MoneyError::Line(problem) => MoneyError::Line(problem),
            error => MoneyError::Line(Box::new(LineProblem { line: index.saturating_add(1), error })),
        }
    }

    /// Position of the line it is about, from 1; none if it is about no single line.
    pub fn line(&self) -> Option<usize> {
        match self {
            MoneyError::Line(problem) => Some(problem.line),
            _ => None,
        }
    }

    /// What is wrong, whichever line it is on.
    pub fn cause(&self) -> &MoneyError {
        match self {
            MoneyError::Line(problem) => problem.error.cause(),
            error => error,
        }
    }
}
