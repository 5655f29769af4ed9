//! Jobs through the api as a window would drive it: what is refused, what is kept, what is doubted.
#![cfg(test)]

mod bad_input;
mod keys;
mod recipients;
mod refusals;
mod safe_keeping;
mod shop;
mod times;
mod withheld;
