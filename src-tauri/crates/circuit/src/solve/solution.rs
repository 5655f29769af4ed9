//! Volts at every point of a circuit in one state: for the drawing and for whoever wants to check us.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::CircuitError;
use crate::file::component::ComponentKind;
use crate::file::fault::Fault;
use crate::file::layout::Circuit;
use crate::file::observation::State;
use crate::solve::netlist::Netlist;
use crate::solve::part::{Failing, Position};
use crate::solve::settle::settle;
use crate::solve::wiring::Wiring;

/// A point's voltage.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Level {
    /// Volts against the circuit's reference.
    Volts(f64),
    /// No path leads to the reference: an ideal meter shows nothing definite, a real one about 0 V.
    Floating,
}

/// A circuit at rest in one state.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Solution {
    /// Point id → voltage.
    pub points: BTreeMap<String, Level>,
    /// Coil id → pulled in; driver or regulated supply id → on; diode id → conducts; fuse id → whole.
    pub working: BTreeMap<String, bool>,
    /// False when relays or drivers chatter: then the volts are one moment of it.
    pub steady: bool,
}

/// Solves a circuit in one state with these faults (none = healthy) and an optional substitute load.
///
/// # Errors
/// Unknown names; [`CircuitError::NoSolution`] when the equations have none.
pub fn solve(
    circuit: &Circuit,
    state: &State,
    faults: &[Fault],
    load: Option<&str>,
) -> Result<Solution, CircuitError> {
    let wiring = Wiring::of(circuit)?;
    let failing: Vec<Failing> = faults.iter().map(|fault| wiring.failing(fault)).collect::<Result<_, _>>()?;
    let settled = settle(&wiring, &wiring.setting(state, load)?, &failing)?;
    let level = |node| settled.solved.volts(node).map_or(Level::Floating, Level::Volts);
    let points = wiring.point_names().map(|(name, node)| (name.to_owned(), level(node))).collect();
    let working = wiring.parts.iter().zip(&settled.positions).filter_map(|(part, position)| {
        let works = match part.component.kind {
            ComponentKind::Coil { .. } => *position == Position::Working,
            ComponentKind::Fuse { .. } => *position != Position::Blown,
            ComponentKind::HighSideDriver { .. }
            | ComponentKind::LowSideDriver { .. }
            | ComponentKind::RegulatedSupply { .. }
            | ComponentKind::Diode { .. } => *position != Position::Rest,
            _ => return None,
        };
        Some((part.component.id.clone(), works))
    });
    Ok(Solution { points, working: working.collect(), steady: settled.steady })
}

/// The linear netlist a circuit has settled to, so that another program can solve it too. Its nodes carry the
/// circuit's point ids.
///
/// # Errors
/// As [`solve`].
pub fn settled_netlist(
    circuit: &Circuit,
    state: &State,
    faults: &[Fault],
    load: Option<&str>,
) -> Result<Netlist, CircuitError> {
    let wiring = Wiring::of(circuit)?;
    let failing: Vec<Failing> = faults.iter().map(|fault| wiring.failing(fault)).collect::<Result<_, _>>()?;
    let setting = wiring.setting(state, load)?;
    let settled = settle(&wiring, &setting, &failing)?;
    let mut by_number: Vec<(usize, &str)> = wiring.point_names().map(|(name, node)| (node, name)).collect();
    by_number.sort_unstable();
    let mut netlist = Netlist::new(&circuit.reference);
    by_number.iter().for_each(|(_, name)| {
        netlist.node(name);
    });
    (by_number.len()..wiring.nodes).for_each(|node| {
        netlist.node(&format!("inside battery {node}"));
    });
    wiring.elements(&setting, &failing, &settled.positions).into_iter().for_each(|part| netlist.add(part));
    Ok(netlist)
}
