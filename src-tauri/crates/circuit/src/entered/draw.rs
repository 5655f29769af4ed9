//! Places in the drawing: from the battery to the right, grounds in the bottom row.

use std::collections::BTreeMap;

use crate::file::component::{Component, ComponentKind};
use crate::file::layout::Point;

/// Grid units between neighbours.
const STEP: f64 = 3.0;

/// Sets `x` and `y` of every point.
pub(super) fn place(points: &mut [Point], parts: &[Component], positive: &str, reference: &str) {
    let depth = depths(parts, positive, reference);
    let ground = grounds(parts, reference);
    let mut rows: BTreeMap<usize, f64> = BTreeMap::new();
    let mut bottom = 0.0_f64;
    let mut along = 0.0;
    for point in points.iter_mut().filter(|point| !ground.contains_key(point.id.as_str())) {
        let column = depth.get(point.id.as_str()).copied().unwrap_or(0);
        let row = rows.entry(column).or_insert(if column % 2 == 0 { 0.0 } else { 1.0 });
        point.x = f64::from(u32::try_from(column).unwrap_or(0)) * STEP;
        point.y = *row;
        *row += STEP;
        bottom = bottom.max(*row);
    }
    for point in points.iter_mut().filter(|point| ground.contains_key(point.id.as_str())) {
        point.x = along;
        point.y = bottom + 1.0;
        along += STEP;
    }
}

/// Steps from the battery's positive post, not through the reference.
fn depths<'p>(parts: &'p [Component], from: &'p str, reference: &str) -> BTreeMap<&'p str, usize> {
    let mut depth = BTreeMap::from([(from, 0)]);
    let mut front = vec![from];
    while !front.is_empty() {
        let mut next = Vec::new();
        for here in front {
            let at = depth.get(here).copied().unwrap_or(0);
            for point in
                parts.iter().map(|part| part.kind.points()).filter(|ends| ends.contains(&here)).flatten()
            {
                if point != reference && !depth.contains_key(point) {
                    depth.insert(point, at + 1);
                    next.push(point);
                }
            }
        }
        front = next;
    }
    depth
}

/// Points that conductors alone join to the reference.
pub(super) fn grounds<'p>(parts: &'p [Component], reference: &'p str) -> BTreeMap<&'p str, ()> {
    let mut ground = BTreeMap::from([(reference, ())]);
    loop {
        let before = ground.len();
        for part in parts {
            let conducts = matches!(part.kind, ComponentKind::Wire { .. } | ComponentKind::Connection { .. });
            let ends = part.kind.points();
            if conducts && ends.iter().any(|end| ground.contains_key(end)) {
                ground.extend(ends.into_iter().map(|end| (end, ())));
            }
        }
        if ground.len() == before {
            return ground;
        }
    }
}
