//! What each way of programming a module costs on average, and when the vehicle is done.
//!
//! The model. One attempt succeeds with probability p. After a failed attempt the module can be tried
//! again with probability r (recovery); otherwise, or when the attempts run out, it is lost: another
//! module and another route are needed, at the cost of the loss. With q = 1 - p, attempt k (from 0) is
//! reached with probability (q r)^k. Each attempt costs its cash, the technician's hours at what those
//! hours would have earned, and the elapsed hours at what the blocked bay and the waiting customer cost.
//!
//! Stage times are fixed numbers, so the spread of a real appointment isn't in here. Results are in major
//! units (dollars) as floats: turn them into [`crate::Cents`] with [`crate::Cents::from_expectation`]
//! before they enter a record.

mod belief;
mod break_even;
mod cases;
mod choice;
mod expectation;
mod outcome;
mod route;

pub use belief::SuccessBelief;
pub use break_even::{BreakEven, break_even};
pub use cases::{Case, CostCases, Ending, cost_cases};
pub use choice::{Choice, Deadline, best_route};
pub use expectation::{Expectation, expected, expected_at};
pub use outcome::{Outcome, cost_quantile, outcomes, probability_done_by};
pub use route::{CommonRates, Route, RouteKind};
