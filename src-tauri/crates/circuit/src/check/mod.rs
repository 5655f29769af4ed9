//! Reading a circuit file, and everything that can be wrong in it: all of it at once, with place and remedy.

mod graph;
pub(crate) mod healthy;
pub(crate) mod hidden;
mod labels;
pub mod limits;
mod lines;
mod loads;
mod names;
mod parts;
pub(crate) mod problem;
mod tests_of;
mod usable;
mod whole;

pub use problem::{Problem, ProblemCode};
pub use whole::check;
