//! Probabilities: what was read against what was predicted.

pub(crate) mod belief;
pub(crate) mod course;
mod glance;
mod in_doubt;
pub(crate) mod likelihood;
pub(crate) mod mixture;
pub(crate) mod pairs;
pub(crate) mod pin_bound;
pub(crate) mod pin_out;
pub(crate) mod pin_prior;
pub(crate) mod posterior;
pub(crate) mod prior;
pub(crate) mod ready_row;
pub(crate) mod row_set;
pub(crate) mod rows;
pub(crate) mod severities;
pub(crate) mod states;
pub(crate) mod term;
