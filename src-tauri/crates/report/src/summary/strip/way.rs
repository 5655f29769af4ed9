//! The shortest way between the battery's posts that leads through one part.

use circuit::{Circuit, Component, ComponentKind};
use std::collections::{BTreeMap, BTreeSet};

/// Parts on the way from the positive to the negative post through `through`, in order, that part included.
pub(super) fn way_through<'c>(circuit: &'c Circuit, through: &str) -> Option<Vec<&'c str>> {
    let posts = circuit.components.iter().find_map(|component| match &component.kind {
        ComponentKind::Battery { positive, negative, .. } => Some((positive.as_str(), negative.as_str())),
        _ => None,
    });
    let (positive, negative) = posts?;
    let part = circuit.components.iter().find(|component| component.id == through)?;
    let (one, other) = ends(part)?;
    let ways = [(one, other), (other, one)].into_iter().filter_map(|(near, far)| {
        let (mut there, nodes) = shortest(circuit, positive, near, through, &BTreeSet::from([far]))?;
        let (back, _) = shortest(circuit, far, negative, through, &nodes)?;
        there.push(part.id.as_str());
        there.extend(back);
        Some(there)
    });
    ways.min_by_key(Vec::len)
}

/// A part's main two points; the battery is no part of the way.
fn ends(component: &Component) -> Option<(&str, &str)> {
    if matches!(component.kind, ComponentKind::Battery { .. }) {
        return None;
    }
    match component.kind.points().as_slice() {
        [one, other, ..] => Some((one, other)),
        _ => None,
    }
}

/// Detours through what only leaks, pulls or draws for itself cost more than any real way.
const fn cost(component: &Component) -> u32 {
    match component.kind {
        ComponentKind::Wire { .. } | ComponentKind::Connection { .. } => 1,
        ComponentKind::SupplyLoad { .. }
        | ComponentKind::CurrentDraw { .. }
        | ComponentKind::Resistor { .. } => 50,
        _ => 3,
    }
}

type Found<'c> = (Vec<&'c str>, BTreeSet<&'c str>);

/// The cheapest way between two points without one part and without some points: its parts and its points.
fn shortest<'c>(
    circuit: &'c Circuit,
    from: &'c str,
    to: &'c str,
    without: &str,
    avoid: &BTreeSet<&'c str>,
) -> Option<Found<'c>> {
    let mut reached: BTreeMap<&str, (u32, Found<'c>)> =
        BTreeMap::from([(from, (0, (Vec::new(), BTreeSet::from([from]))))]);
    let mut settled: BTreeSet<&str> = BTreeSet::new();
    loop {
        let open = reached.iter().filter(|(point, _)| !settled.contains(*point));
        let (here, (spent, (parts, points))) = open.min_by_key(|(_, (spent, _))| *spent)?;
        let (here, spent, parts, points) = (*here, *spent, parts.clone(), points.clone());
        if here == to {
            return Some((parts, points));
        }
        settled.insert(here);
        for component in circuit.components.iter().filter(|component| component.id != without) {
            let Some((one, other)) = ends(component) else { continue };
            let next = if one == here {
                other
            } else if other == here {
                one
            } else {
                continue;
            };
            if avoid.contains(next) || settled.contains(next) {
                continue;
            }
            let total = spent.saturating_add(cost(component));
            if reached.get(next).is_none_or(|(known, _)| total < *known) {
                let parts = parts.iter().copied().chain([component.id.as_str()]).collect();
                let points = points.iter().copied().chain([next]).collect();
                reached.insert(next, (total, (parts, points)));
            }
        }
    }
}
