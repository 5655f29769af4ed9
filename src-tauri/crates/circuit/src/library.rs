//! The circuits we ship, as data files.

use crate::error::CircuitError;
use crate::layout::Circuit;

/// Adding a circuit is adding its file here.
const FILES: &[&str] = &[
    include_str!("library/relay_high_side.json"),
    include_str!("library/relay_low_side.json"),
    include_str!("library/starter_power.json"),
];

/// Every circuit of the library, in the order of the list.
///
/// # Errors
/// A file that can't be read or contradicts itself.
pub fn all() -> Result<Vec<Circuit>, CircuitError> {
    FILES.iter().map(|text| Circuit::from_json(text)).collect()
}

/// One circuit by its id.
///
/// # Errors
/// No such circuit, or its file contradicts itself.
pub fn find(id: &str) -> Result<Circuit, CircuitError> {
    all()?
        .into_iter()
        .find(|circuit| circuit.id == id)
        .ok_or_else(|| CircuitError::Unknown { kind: "circuit", id: id.to_owned() })
}
