//! A circuit in one state as a deck that ngspice runs as it is, so that anyone can compare. Every part stands in it as
//! what it is: ngspice finds out by itself which relay pulls, which diode conducts and which fuse blows.
//!
//! Everything starts at rest with the battery connected, and moves with a delay of [`MOVES`]; a fuse waits longer, so
//! that it takes the rush into what hasn't moved yet. What counts are the volts when all has settled.

mod lines;
mod modules;
mod own;
mod parts;
mod whole;

pub use lines::spice_node;
pub use whole::spice_deck;
