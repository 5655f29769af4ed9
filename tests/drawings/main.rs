//! Drawings of every circuit of the library, along real searches: what overlaps, what crosses, what is missing.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    reason = "a check may stop at the first thing that is wrong"
)]

mod chance;
mod figures;
mod judge;
mod pictures;
mod search;
mod shown;
mod svg;

#[path = "../trials/random.rs"]
#[allow(dead_code, reason = "the trials use more of it")]
mod random;
#[path = "../trials/vehicle.rs"]
#[allow(dead_code, reason = "the trials use more of it")]
mod vehicle;

type Failure = Box<dyn std::error::Error + Send + Sync>;
