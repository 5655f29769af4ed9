//! Whether buying a programming tool pays.
//!
//! The model. Jobs that need programming arrive at an unknown monthly rate; what was assumed and what was seen
//! make a gamma belief about it (Poisson counts). The tool can do a share of them (coverage), and each one
//! saves the difference between the best other way and the shop's own. Net present value is then a fixed part
//! (price, training, subscriptions, resale) plus a part proportional to the rate. Results are in major units
//! and ignore taxes.

mod demand;
mod learning;
mod offer;
mod payback;
mod worth;
mod yearly;

pub use demand::Demand;
pub use learning::{Waiting, worth_of_waiting};
pub use offer::ToolOffer;
pub use payback::{Payback, pays_back_by};
pub use worth::{DoubtfulWorth, OwnWork, Worth, worth, worth_with_doubt};
pub use yearly::{MOST_YEARLY_JOBS, YearlyGain, yearly_gain};
