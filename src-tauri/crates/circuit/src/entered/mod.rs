//! A circuit as a technician enters it from a diagram: parts between named points, with color, length, size and pins.
//!
//! [`Entered::into_circuit`] turns it into a whole [`Circuit`](crate::Circuit): faults with their prior odds, states,
//! tests with limits, places in the drawing, and what has to be observed before its module may be called. Defaults are
//! our judgment and say so.

mod bus;
mod draw;
mod entry;
mod evidence;
mod faults;
mod fields;
mod fields_module;
mod make;
mod making;
mod module;
mod module_entry;
mod modules;
mod names;
mod parts;
mod phrases;
mod places;
mod procedures;
mod relevant;
mod size;
mod tests_module;
mod variables;
mod works;

pub use entry::{ClosedBy, Entered, EnteredConnector, EnteredKind, EnteredPart, EnteredPin, WorksWhile};
pub use module_entry::{AskedBy, Drives, EnteredCan, EnteredInput, EnteredModule, EnteredOutput};
pub use size::WireSize;
