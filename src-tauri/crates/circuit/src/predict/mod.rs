//! What every test would show under every cause, along its severities. It knows nothing of what was read.

mod alternating;
mod blown;
pub(crate) mod cause;
pub(crate) mod curve;
pub(crate) mod model;
#[cfg(test)]
mod model_test;
pub(crate) mod modules;
mod pulses;
pub(crate) mod reading;
pub(crate) mod recorded;
pub(crate) mod sweep;
