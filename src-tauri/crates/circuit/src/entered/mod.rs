//! A circuit as a technician enters it from a diagram: parts between named points, with colour, length, size and pins.
//!
//! [`Entered::into_circuit`] turns it into a whole [`Circuit`]: faults with their prior odds, states, tests with
//! limits, places in the drawing, and what has to be observed before its module may be called. Defaults are our
//! judgement and say so.

mod draw;
mod entry;
mod faults;
mod fields;
mod make;
mod module;
mod names;
mod phrases;
mod procedures;
mod size;

pub use entry::{
    ClosedBy, Drives, Entered, EnteredConnector, EnteredInput, EnteredKind, EnteredModule, EnteredPart,
    EnteredPin,
};
pub use size::WireSize;
