//! Circuits, readings and what they prove.
//!
//! A [`Circuit`] is one data file: points, parts, the ways the parts fail, and the tests a technician can make.
//! [`solve`] gives the volts at every point of it in one state; [`diagnose`] turns readings into the
//! probability of each cause, the next test worth its minutes, and whether a module may be called the cause.
//!
//! The rooms, each importing only those before it:
//!
//! | Room | What it knows |
//! |---|---|
//! | `file` | what a circuit file says, and what was seen in the vehicle |
//! | `answer` | options and results: what goes in beside the readings, and everything that comes out |
//! | `solve` | netlists, and the volts of a circuit in one state |
//! | `predict` | what every test would show under every cause, along its severities |
//! | `weigh` | what was read against what was predicted: probabilities of causes and pairs |
//! | `choose` | which tests may be offered, and which is worth doing next |
//! | `call` | the gate before a module, and the diagnosis put together |
//!
//! Beside them: [`check`] finds what is wrong in a file (it imports `file`, `solve`, `predict`), [`library`] holds the
//! circuits we ship (read through [`check`]), [`entered`] makes a circuit from a diagram, [`blocks`] one from a few blocks,
//! `routine` adds what every circuit has in common, `deck` writes one for ngspice.
//! No file imports another that leads back to it.
//!
//! This crate knows no file, clock, randomness, job, photo or price. The same input gives the same output.
#![deny(missing_docs)]
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic))]

mod answer;
pub mod blocks;
mod call;
pub mod check;
mod choose;
mod deck;
pub mod entered;
mod error;
mod file;
pub mod library;
mod predict;
mod routine;
mod solve;
mod weigh;

pub use answer::cause_share::{CauseShare, LikelihoodWord, PairShare, RuledOut, SeverityEstimate};
pub use answer::diagnosis::{Diagnosis, ENGINE, Expected, UNMODELED};
pub use answer::doubt::{Doubt, DoubtCode};
pub use answer::frozen::six_digits;
pub use answer::next_test::{NextTest, WithheldCode, WithheldTest};
pub use answer::options::{LEAST_POINTS, Options};
pub use answer::overturn::{Overturn, PossibleResult};
pub use answer::pin_out::{PinOut, UnknownPins};
pub use answer::reason::Reason;
pub use answer::test_or_buy::{Cheaper, ModulePrice, TestOrBuy};
pub use answer::verdict::{Missing, MissingCode, ModuleVerdict};
pub use call::engine::{Engine, diagnose};
pub use check::{Problem, ProblemCode};
pub use deck::{spice_deck, spice_node};
pub use error::CircuitError;
pub use file::anatomy::wire_ohms;
pub use file::compared::Compared;
pub use file::component::{Component, ComponentKind, Conditions, Need, VoltsWhen};
pub use file::fault::{Basis, Fault, FaultMode, FaultSpec};
pub use file::label::{LABEL_LINE, LABEL_LINES, label_lines};
pub use file::layout::{
    Circuit, ColorCode, Complaint, Connector, Pin, Point, SubstituteLoad, Variable, VariableValue,
};
pub use file::meter::{Accuracy, LEAST_COUNTS, Meter};
pub use file::module::{EvidenceCode, EvidenceNeed, Module};
pub use file::observation::{Condition, MeasureMode, Observation, ObservedValue, Present, State, UNKNOWN};
pub use file::procedure::{Behavior, Limits, Question, Required, Requirement, Test, TestKind};
pub use file::text::Text;
pub use solve::element::Element;
pub use solve::export::{fault_of, state_of, volts_text};
pub use solve::netlist::Netlist;
pub use solve::solution::{Level, Solution, settled_netlist, solve};
pub use solve::solved::{Probe, Solved};
