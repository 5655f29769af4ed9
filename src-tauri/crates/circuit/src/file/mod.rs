//! What a circuit file says, and what was seen in the vehicle: points, parts and their faults, tests, modules, readings.
//! It solves nothing.

pub(crate) mod anatomy;
pub(crate) mod compared;
pub(crate) mod component;
pub(crate) mod fault;
#[cfg(test)]
mod format_page;
pub(crate) mod label;
pub(crate) mod layout;
pub(crate) mod meter;
pub(crate) mod module;
pub(crate) mod observation;
pub(crate) mod procedure;
pub(crate) mod stated;
pub(crate) mod text;
pub(crate) mod winding;
