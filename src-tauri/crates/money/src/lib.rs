//! Money of a repair job: whole cents, estimates, invoices, what an approval covers, and what each
//! way of programming a module costs on average.
//!
//! Knows nothing of vehicles, records, files or clocks. Amounts are integers in minor units of a
//! currency with two decimals; every operation on them is checked. Only the expectations in
//! [`programming`] and [`tool_purchase`] use floating point, and they turn into [`Cents`] at the edge.
//!
//! Nothing here is tax or legal advice: rates, bases and margins come in as data.
#![deny(missing_docs)]

mod approval;
mod cents;
mod error;
mod estimate;
mod invoice;
mod line;
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
pub use percent::{Percent, TaxRate};
pub use quantity::{Hours, Quantity};
pub use tax::{TaxBasis, tax_on};
pub use totals::{Totals, totals};
