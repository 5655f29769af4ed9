//! Circuits, readings and what they prove.
//!
//! A [`Circuit`] is one data file: points, parts, the ways the parts fail, and the tests a technician can make.
//! [`solve`] gives the volts at every point of it in one state; [`diagnose`] turns readings into the
//! probability of each cause, the next test worth its minutes, and whether a module may be called the cause.
//!
//! This crate knows no file, clock, randomness, job, photo or price. The same input gives the same output.
#![deny(missing_docs)]
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic))]

mod anatomy;
mod belief;
mod bend;
mod cause;
pub mod check;
mod component;
mod course;
mod curve;
mod deck;
mod diagnosis;
mod doubt;
mod engine;
pub mod entered;
mod error;
mod export;
mod factored;
mod fault;
mod forecast;
#[cfg(test)]
mod format_page;
mod frozen;
mod gate;
mod grounds;
mod islands;
mod layout;
pub mod library;
mod likelihood;
mod meter;
mod model;
mod module;
mod netlist;
mod next_test;
mod observation;
mod offer;
mod overturn;
mod pairs;
mod part_now;
mod pin_out;
mod playing;
mod posterior;
mod prior;
mod procedure;
mod raw;
mod reading;
mod relatives;
mod result;
mod row_set;
mod rows;
mod separable;
mod settle;
mod severities;
mod solution;
mod solved;
mod test_or_buy;
mod text;
mod wiring;

pub use anatomy::wire_ohms;
pub use check::{Problem, ProblemCode};
pub use component::{Component, ComponentKind, Conditions, Need, VoltsWhen};
pub use deck::{spice_deck, spice_node};
pub use diagnosis::{
    CauseShare, Diagnosis, Doubt, DoubtCode, ENGINE, Expected, LikelihoodWord, Missing, MissingCode,
    ModuleVerdict, NextTest, Options, PairShare, RuledOut, SeverityEstimate, WithheldCode, WithheldTest,
};
pub use engine::{Engine, diagnose};
pub use error::CircuitError;
pub use export::{fault_of, state_of, volts_text};
pub use fault::{Basis, Fault, FaultMode, FaultSpec};
pub use frozen::six_digits;
pub use grounds::Ground;
pub use layout::{
    Circuit, ColourCode, Complaint, Connector, Pin, Point, SubstituteLoad, Variable, VariableValue,
};
pub use meter::{Accuracy, Meter};
pub use module::{EvidenceCode, EvidenceNeed, Module};
pub use netlist::{Element, Netlist};
pub use observation::{MeasureMode, Observation, ObservedValue, Present, State};
pub use overturn::{Overturn, WouldShow};
pub use pin_out::{PinOut, UnknownPins};
pub use prior::UNMODELLED;
pub use procedure::{Happening, Limits, Question, Required, Requirement, Test, TestKind};
pub use solution::{Level, Solution, settled_netlist, solve};
pub use solved::{Probe, Solved};
pub use test_or_buy::{Cheaper, ModulePrice, TestOrBuy};
pub use text::Text;
