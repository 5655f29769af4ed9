//! Simulated vehicles with hidden faults, made to judge the diagnosis engine from outside.
//!
//! Nothing here knows how the engine solves or weighs: the volts come from ngspice (`spice.rs`) through decks of our own
//! (`deck.rs`), and what breaks in a shop is told as technicians tell it, not as the circuit files list it. From the
//! crate `circuit` only the file's own types are used.
//!
//! Every share, odds and severity below is judgment: nobody publishes how often a splice corrodes.
//!
//! Who judges with it: a call of a module is wrong where `Job::in_module` is false. A cause is right where it is among
//! `Job::causes`, or where `Job::shows_the_same` says that no test of this circuit tells it from the truth (a repaired
//! vehicle would differ, a reading wouldn't). With no causes the truth lies outside the file, unless some listed cause
//! shows the same. A module that refuses (a condition isn't met, old software) is good: its cause is the driver's
//! `not_commanded`, and a scan tool's output test works. One that nothing switches on (`unresponsive`) or that only leaks
//! (`leaks`) is bad.
//!
//! What is not like in the shop: wires and coils don't heat up or burn, motors have no starting current, nothing rings or
//! ripples, the meter is never in a wrong mode, the technician never repairs in between, and a vehicle has one owner's
//! history at most.
//!
//! DANGER: sorts with `Sort::for_tuning() == false` are for reporting only. Whoever sets a number of the engine by looking
//! at them has no outside judge left.

use circuit::{Circuit, ComponentKind};

mod answer;
mod beside;
mod break_file;
mod break_harness;
mod break_module;
mod break_parts;
mod break_world;
mod deck;
mod dice;
mod display;
mod emit;
mod harm;
mod hidden;
mod job;
mod measure;
mod moment;
mod same;
mod settle;
mod severity;
mod slip;
mod sort;
mod specimen;
mod spice;
mod truth;

#[cfg(test)]
mod checks;

use std::fmt;

pub use job::Job;
pub use sort::{Mix, Sort};
pub use spice::solves;
pub use truth::of_the_drawing;

/// Why a vehicle couldn't be simulated.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failure(pub String);

impl fmt::Display for Failure {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

impl std::error::Error for Failure {}

/// Circuits whose volts this bench can make: nothing here turns a wheel past a pick-up.
pub fn on_the_bench(circuits: Vec<Circuit>) -> Vec<Circuit> {
    let turned = |circuit: &Circuit| {
        circuit.components.iter().any(|part| matches!(part.kind, ComponentKind::PickUp { .. }))
    };
    circuits.into_iter().filter(|circuit| !turned(circuit)).collect()
}
