//! Money against statutes worked by hand, published tax tables, and reference numbers of another program.

mod routes;
mod sums;
mod tax;
