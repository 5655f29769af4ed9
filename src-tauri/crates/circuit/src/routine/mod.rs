//! What every circuit has in common: how a blown fuse is followed up, what a scan tool can tell of a module, and
//! what is seen once more while its test leads are in place.
//!
//! Files, compositions and entered diagrams say what is their own; this adds the rest, once, before a job freezes the
//! circuit. What a circuit already says itself stays as it is.

mod fuses;
mod leads;
mod parts;
mod scan_tool;

use crate::file::layout::Circuit;

/// The circuit with its fuses' and its modules' usual tests. What it says of them itself stays as it is, and a circuit that
/// is complete already comes back as it was.
pub(crate) fn complete(mut circuit: Circuit) -> Circuit {
    scan_tool::add(&mut circuit);
    leads::add(&mut circuit);
    fuses::add(&mut circuit);
    circuit
}
