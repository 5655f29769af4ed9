//! The diagnosis: everything put together, and the gate before a module may be called the cause.

pub(crate) mod case;
pub(crate) mod cause_shares;
pub(crate) mod doubt;
pub(crate) mod engine;
pub(crate) mod finite;
pub(crate) mod gate;
mod look_alike;
#[cfg(test)]
mod pins_test;
