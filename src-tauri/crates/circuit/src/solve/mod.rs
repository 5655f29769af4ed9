//! The volts of a circuit in one state: wired, brought to rest, solved. It knows no reading and no probability.

pub(crate) mod at_hand;
pub(crate) mod bend;
pub(crate) mod differences;
pub(crate) mod element;
pub(crate) mod export;
pub(crate) mod factored;
pub(crate) mod islands;
pub(crate) mod netlist;
pub(crate) mod netlist_lines;
pub(crate) mod part;
pub(crate) mod settle;
pub(crate) mod solution;
pub(crate) mod solved;
pub(crate) mod wiring;
