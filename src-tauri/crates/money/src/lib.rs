//! Money of a repair job: whole cents, estimates, invoices, what an approval covers, and what each
//! way of programming a module costs on average.
//!
//! Knows nothing of vehicles, records, files or clocks. Amounts are integers in minor units of a
//! currency with two decimals; every operation on them is checked. Only the expectations in
//! [`programming`] and [`tool_purchase`] use floating point, and they turn into [`Cents`] at the edge.
//!
//! | Type | Unit | Range | Rounding |
//! |---|---|---|---|
//! | [`Cents`] | cents (minor units) | 64 bits; typed and on a line within [`Cents::MOST`] either way | price times quantity to the cent, halves away from zero |
//! | [`Quantity`], [`Hours`] | thousandths of a piece or an hour | 0 to 4,294,967.295; typed up to [`Quantity::MOST`] | none: more decimals are refused |
//! | [`Percent`], [`TaxRate`] | thousandths of a per cent | 0 to 100 % | none: more decimals are refused |
//! | tax ([`tax_on`]) | cents | as [`Cents`] | third decimal over four goes up (R.I. Gen. Laws 44-18.1-25(A)) |
//! | tax inside a price ([`tax_in`]) | cents | as [`Cents`] | the same, line by line |
//! | margin ([`MarginRule`]) | cents | at or above zero | cut to the cent, never up |
//! | expectations | major units (dollars), hours, probabilities 0 to 1, as `f64` | | to the cent by [`Cents::from_expectation`], halves away from zero |
//!
//! Typed text is read the same way in every field (see [`Cents::from_str`](Cents#impl-FromStr-for-Cents)); what is on
//! record is read in its one stored spelling, whatever its size, so that a limit added later never makes
//! an old record unreadable.
//!
//! Nothing here is tax or legal advice: rates, bases and margins come in as data.
#![deny(missing_docs, clippy::missing_errors_doc)]

mod approval;
mod cents;
mod error;
mod estimate;
mod invoice;
pub mod ledger;
mod line;
mod matching;
mod percent;
pub mod programming;
mod quantity;
mod rounding;
mod tax;
pub mod tool_purchase;
mod totals;
mod typed;

pub use approval::{MarginRule, Refusal, may_bill};
pub use cents::Cents;
pub use error::{LineProblem, MoneyError};
pub use estimate::Estimate;
pub use invoice::Invoice;
pub use line::{Condition, Line, LineKind, Subtotal};
pub use matching::{AnsweredLine, Deviation, Difference, Lenience, LineAnswer, deviations};
pub use percent::{Percent, TaxRate};
pub use quantity::{Hours, Quantity};
pub use tax::{TaxBasis, is_on_top, tax_in, tax_on};
pub use totals::{Taxation, Totals, totals};
pub use typed::Marks;
