//! What hangs on an output: a winding keeps its current going between pulses, a lamp or a resistor doesn't.

use crate::file::component::ComponentKind;
use crate::file::layout::Circuit;

/// Does a coil or a motor hang on this point, by way of wires, joints, fuses, switches and contacts?
pub(crate) fn has_winding(circuit: &Circuit, output: &str) -> bool {
    let mut reached = vec![output];
    let mut next = 0;
    while let Some(here) = reached.get(next).copied() {
        next += 1;
        for part in &circuit.components {
            let ends = part.kind.points();
            if !ends.contains(&here) {
                continue;
            }
            match part.kind {
                ComponentKind::Coil { .. } | ComponentKind::Motor { .. } => return true,
                ComponentKind::Wire { .. }
                | ComponentKind::Connection { .. }
                | ComponentKind::Fuse { .. }
                | ComponentKind::Switch { .. }
                | ComponentKind::Contact { .. } => {
                    for end in ends {
                        if end != circuit.reference && !reached.contains(&end) {
                            reached.push(end);
                        }
                    }
                }
                _ => {}
            }
        }
    }
    false
}
