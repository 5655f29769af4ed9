//! Jobs through the api as a window would drive it: what is refused, what is kept, what is doubted.
#![cfg(test)]

mod bad_input;
mod recipients;
mod refusals;
mod shop;
mod withheld;
