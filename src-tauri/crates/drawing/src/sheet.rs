//! Where a circuit's hubs, strands and columns lie: everything that doesn't depend on readings.

use std::collections::BTreeSet;

use circuit::Circuit;

use crate::columns::{CROSSED, Columns};
use crate::graph::{Graph, HubKind};

/// Branches that are left out at most so that the others fit.
const MOST_LEFT_OUT: usize = 12;

/// Hubs, strands and columns of one circuit: everything that doesn't depend on readings.
#[derive(Debug, Clone)]
pub(crate) struct Sheet {
    pub graph: Graph,
    pub columns: Columns,
    /// Boxes that stand in columns.
    pub standing: Vec<usize>,
    /// Slots that found no place.
    pub left_out: BTreeSet<usize>,
}

impl Sheet {
    /// Nothing for a circuit without a battery, or if no order of columns was found: then there is a list of points.
    pub fn of(circuit: &Circuit, keep: &BTreeSet<String>) -> Option<Self> {
        let mut left_out = BTreeSet::new();
        let mut found: Option<Self> = None;
        for _ in 0..MOST_LEFT_OUT {
            let graph = Graph::of(circuit, &left_out)?;
            let spare = spare_branch(&graph, keep);
            for stacked in [false, true] {
                let mut graph = graph.clone();
                let cost = found.as_ref().map_or(f64::INFINITY, |best| best.columns.cost);
                if cost >= CROSSED
                    && let Some(columns) = Columns::of(&mut graph, stacked)
                    && columns.cost < cost - CROSSED.min(cost / 2.0)
                {
                    let standing = columns.standing(&graph);
                    found = Some(Self { graph, columns, standing, left_out: left_out.clone() });
                }
            }
            let crossed = found.as_ref().is_none_or(|best| best.columns.cost >= CROSSED);
            let Some(spare) = spare.filter(|_| crossed) else { break };
            left_out.extend(spare);
        }
        found
    }
}

/// The branch with the least prior odds whose loss leaves all others in place, unless something on it must be seen.
fn spare_branch(graph: &Graph, keep: &BTreeSet<String>) -> Option<Vec<usize>> {
    let kept = |point: usize| keep.contains(&graph.net.points[point].id);
    let needed =
        |slot: &usize| graph.slots[*slot].parts.iter().any(|part| keep.contains(&graph.net.parts[*part].id));
    let singles = graph.strands.places().map(|strand| vec![strand]);
    let branches = singles.filter(|strands| {
        strands.iter().all(|place| {
            let strand = &graph.strands[*place];
            let alone = strands.len() == 1;
            let bars = [strand.from, strand.to].iter().all(|hub| !graph.is_frame(*hub));
            let inner = strand.points.iter().skip(1).take(strand.points.len().saturating_sub(2));
            let firm = [(strand.from, false), (strand.to, true)].iter().all(|(hub, above)| {
                let center = !alone && strands.iter().all(|other| graph.strands[*other].meets(*hub));
                center || carried(graph, strands, *hub, *above)
            });
            (bars || !alone)
                && firm
                && !strand.slots.is_empty()
                && !inner.copied().any(kept)
                && !strand.slots.iter().any(needed)
        })
    });
    let odds = |strands: &Vec<usize>| {
        let slots = strands.iter().flat_map(|strand| &graph.strands[*strand].slots);
        slots.map(|slot| graph.odds(*slot)).sum::<f64>()
    };
    let least = branches.min_by(|one, other| odds(one).total_cmp(&odds(other)))?;
    Some(least.iter().flat_map(|strand| graph.strands[*strand].slots.iter().copied()).collect())
}

/// Does a hub keep a strand above (or below) it without these?
fn carried(graph: &Graph, without: &[usize], hub: usize, above: bool) -> bool {
    let rail = matches!(graph.hubs[hub].kind, HubKind::Top | HubKind::Bottom | HubKind::Frame(_));
    let ends = |place: usize| if above { graph.strands[place].to } else { graph.strands[place].from };
    rail || graph.strands.places().any(|place| !without.contains(&place) && ends(place) == hub)
}
