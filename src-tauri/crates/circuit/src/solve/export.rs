//! States and faults as they are written on the command line, and every point's volts as text.

use std::fmt::Write as _;

use crate::error::CircuitError;
use crate::file::fault::{Fault, FaultMode};
use crate::file::layout::Circuit;
use crate::file::observation::State;
use crate::solve::solution::{Level, solve};

/// Reads a state such as `key=on,request=on`.
///
/// # Errors
/// [`CircuitError::Unknown`] with the piece that isn't `variable=value`. Names are looked up when it is solved.
pub fn state_of(text: &str) -> Result<State, CircuitError> {
    let pieces = text.split(',').map(str::trim).filter(|piece| !piece.is_empty());
    pieces
        .map(|piece| {
            let pair = piece.split_once('=').map(|(variable, value)| (variable.trim(), value.trim()));
            let unknown = || CircuitError::Unknown { kind: "state", id: piece.to_owned() };
            pair.map(|(variable, value)| (variable.to_owned(), value.to_owned())).ok_or_else(unknown)
        })
        .collect()
}

/// Reads a fault such as `wire_control/high_resistance=150` or `coil/open`; a short sits where the circuit's own fault
/// of this sort does.
///
/// # Errors
/// [`CircuitError::Unknown`] when the part can't fail this way, or the severity is missing or no number.
pub fn fault_of(circuit: &Circuit, text: &str) -> Result<Fault, CircuitError> {
    let unknown = || CircuitError::Unknown { kind: "fault", id: text.to_owned() };
    let (name, severity) = text.split_once('=').map_or((text, None), |(name, value)| (name, Some(value)));
    let (component, mode) = name.trim().split_once('/').ok_or_else(unknown)?;
    let part = circuit.components.iter().find(|part| part.id == component).ok_or_else(unknown)?;
    let mode: FaultMode =
        serde_json::from_value(serde_json::Value::String(mode.to_owned())).map_err(|_| unknown())?;
    let severity = severity.map(|value| value.trim().parse::<f64>().map_err(|_| unknown())).transpose()?;
    let fits = severity.is_some_and(|severity| severity > 0.0 && severity.is_finite()) == mode.has_severity();
    if !fits || !part.kind.can_have(mode) {
        return Err(unknown());
    }
    let at = part.faults.iter().find(|fault| fault.mode == mode).and_then(|fault| fault.at.clone());
    Ok(Fault { component: component.to_owned(), mode, severity: severity.unwrap_or(0.0), at })
}

/// Every point with its volts against the reference, then what works, one line each.
///
/// # Errors
/// As [`solve`].
pub fn volts_text(
    circuit: &Circuit,
    state: &State,
    faults: &[Fault],
    load: Option<&str>,
) -> Result<String, CircuitError> {
    let solution = solve(circuit, state, faults, load)?;
    let width = solution.points.keys().map(String::len).max().unwrap_or(0);
    let mut text = String::new();
    for (point, level) in &solution.points {
        let _ = match level {
            Level::Volts(volts) => writeln!(text, "{point:width$}  {volts:>12.6} V"),
            Level::Floating => writeln!(text, "{point:width$}  {:>12}", "floating"),
        };
    }
    for (part, works) in &solution.working {
        let _ = writeln!(text, "{part}: {}", if *works { "working" } else { "at rest" });
    }
    if !solution.steady {
        let _ = writeln!(text, "Relays or drivers chatter in this state: the volts are one moment of it.");
    }
    Ok(text)
}
