//! Circuits against the world outside: ngspice side by side, plain enumeration, whole searches with a hidden fault.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::unimplemented,
    clippy::string_slice,
    reason = "a check may stop at the first thing that is wrong"
)]

mod bench;
mod checker;
mod control_side;
mod entered;
mod ngspice;
mod posterior;
mod solver;
mod stories;
