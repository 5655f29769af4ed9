//! What of a large diagram belongs to the complaint: faults that bring it. A page shows much that has nothing to do with it, and
//! every cause that is weighed and every reading that is offered takes time.

use std::collections::BTreeSet;

use crate::entered::making::Making;
use crate::entered::works::Works;
use crate::file::component::Component;
use crate::file::fault::{Fault, FaultSpec};
use crate::file::layout::{Circuit, Point};
use crate::solve::solution::solve;

/// Up to so many parts everything is kept: a small circuit was entered for its complaint.
const SMALL: usize = 40;

/// Takes the faults out that don't bring the complaint at any severity.
pub(super) fn prune(making: &Making<'_>, works: &Works, circuit: &mut Circuit) {
    if circuit.components.len() <= SMALL {
        return;
    }
    let asked = making.asked();
    let brings = |component: &str, spec: &FaultSpec| {
        severities(spec).into_iter().any(|severity| {
            let (component, mode, at) = (component.to_owned(), spec.mode, spec.at.clone());
            let fault = Fault { component, mode, severity, at };
            // Where there is no solution nothing is known of it.
            solve(circuit, &asked, &[fault], None).map_or(true, |solution| !works.holds(&solution))
        })
    };
    let kept: Vec<Vec<FaultSpec>> = circuit
        .components
        .iter()
        .map(|part| {
            let own = works.is_about(&part.id);
            part.faults.iter().filter(|spec| own || brings(&part.id, spec)).cloned().collect()
        })
        .collect();
    for (part, faults) in circuit.components.iter_mut().zip(kept) {
        part.faults = faults;
    }
}

/// Least, middle and greatest.
fn severities(spec: &FaultSpec) -> Vec<f64> {
    match (spec.min, spec.max) {
        (Some(min), Some(max)) => vec![max, min, (min * max).sqrt()],
        _ => vec![0.0],
    }
}

/// Points at parts that can be the cause, and at what stands beside them.
pub(super) fn points(circuit: &Circuit) -> BTreeSet<String> {
    let all = circuit.components.len() <= SMALL;
    let parts = circuit.components.iter().filter(|part| all || !part.faults.is_empty());
    parts.flat_map(|part| part.kind.points()).map(str::to_owned).collect()
}

/// Can this part be the cause?
pub(super) fn suspected(circuit: &Circuit, id: &str) -> bool {
    let small = circuit.components.len() <= SMALL;
    let can = |part: &Component| part.id == id && !part.faults.is_empty();
    small || circuit.components.iter().any(can)
}

/// Is a reading at this point worth its time?
pub(super) fn reached(points: &BTreeSet<String>, point: &Point) -> bool {
    points.contains(&point.id)
}
