//! Circuits of one load from a few blocks: what feeds it, the relay (or what stands in its place: a solid-state relay, the
//! module's own output), what drives its coil, what stands in the coil's other leg, the load, and what asks for it.
//!
//! A [`Composition`] names the blocks and what is this vehicle's own (pins, wire colors); [`Composition::circuit`] makes a
//! whole [`Circuit`](crate::Circuit) from it, with faults, tests and the list before a call. Odds, minutes and phrases of
//! a block stand here once. Loads, switches and modules are data: a new one is a row in `loads.json`, `switches.json` or
//! `modules.json`, without code.

mod coil_leg;
mod composition;
mod direct;
mod draft;
mod drive;
mod evidence;
mod face;
mod faults;
mod feeds;
#[cfg(test)]
mod format_page;
mod input;
mod labels;
mod load;
mod load_side;
mod module_side;
mod named_load;
mod phrases;
mod relay;
mod steps;
mod switch;
mod tests_direct;
mod tests_load;
mod tests_module;
mod tests_relay;
mod variables;
mod whole;

pub use composition::{
    Across, Composition, Drive, How, Leg, LegOn, LoadChoice, ModuleChoice, Request, SwitchedBy, TestGroup,
    VehicleWire,
};
pub use faults::WireRow;
pub use load::{Asking, Load, LoadIds, LoadKind, LoadWires, LoadWords, load, loads};
pub use named_load::{NAMED, NAMED_ASKED_BY, NamedKind, NamedLoad, Stated};
pub use switch::{ListedModule, Switch, SwitchWords, module, modules, switch, switches};
