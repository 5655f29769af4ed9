//! Money against statutes worked by hand, published tax tables, and reference numbers of another program.
#![cfg(test)]

mod cases;
mod decimals;
mod purchase;
mod reference;
mod routes;
mod sums;
mod tax;
