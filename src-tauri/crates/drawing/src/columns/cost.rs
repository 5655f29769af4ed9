//! What an order of columns costs.

use super::bands::on_contacts;
use super::{CROSSED, Columns, Form};
use crate::graph::Graph;

/// What may not be at all.
const FORBIDDEN: f64 = 1e4;
/// Two bars that lie over each other at one height.
const BARS: f64 = 300.0;
/// Boxes that a wire joins and that aren't neighbors, for each box or column between.
const APART: f64 = 60.0;
/// A wire in the gutter that comes in at the far half of a relay: nothing on it, or something.
const FAR_HALF: (f64, f64) = (40.0, 8.0);
/// A bar over one more column.
const WIDTH: f64 = 2.0;
/// A box over more than three columns.
const BROAD: f64 = 20.0;
/// A column.
const COLUMN: f64 = 1.5;
/// Two lanes in another order than the file draws them.
const ORDER: f64 = 0.3;

/// What doesn't change while columns are tried.
pub(super) struct Costs<'c> {
    graph: &'c Graph,
    columns: &'c Columns,
    /// Hub, its level, whether it is a box, the lanes that it spans.
    hubs: Vec<(usize, usize, bool, Vec<usize>)>,
    /// Lane of each strand, with the levels of its ends.
    strands: Vec<(usize, usize, usize)>,
    /// Place of each lane in the file's own drawing.
    x: Vec<f64>,
    relays: Vec<usize>,
    sides: Vec<Side>,
}

/// A wire between two boxes.
struct Side {
    from: usize,
    to: usize,
    /// Relay at one end, and the lane of the half at which the wire comes in.
    halves: Vec<(usize, usize)>,
    bare: bool,
}

impl<'c> Costs<'c> {
    pub fn of(graph: &'c Graph, columns: &'c Columns) -> Self {
        let lanes = || columns.lanes.iter().enumerate();
        let mut hubs = Vec::new();
        for (hub, level) in &columns.level {
            let rail = *hub == graph.top_hub || *hub == graph.bottom_hub;
            let on = lanes().filter(|(_, lane)| {
                lane.half.is_some_and(|(of, _)| of == *hub)
                    || lane.strands.iter().any(|strand| graph.strands[*strand].meets(*hub))
            });
            let on: Vec<usize> = on.map(|(lane, _)| lane).collect();
            if !rail && !on.is_empty() {
                hubs.push((*hub, *level, graph.is_frame(*hub), on));
            }
        }
        let strands = lanes().flat_map(|(lane, spec)| {
            spec.strands.iter().map(move |strand| {
                let (from, to) = columns.heights(graph, *strand);
                (lane, from, to)
            })
        });
        let x = columns.lanes.iter().map(|lane| {
            let points = lane.strands.iter().flat_map(|strand| graph.strands[*strand].points.iter());
            let at: Vec<f64> = points.map(|point| graph.net.points[*point].x).collect();
            if at.is_empty() { 9.0 } else { at.iter().sum::<f64>() / at.len() as f64 }
        });
        let of_half = |hub: usize, point: usize| {
            let half = Some((hub, on_contacts(graph, hub, point)));
            columns.lanes.iter().position(|lane| lane.half == half).unwrap_or(usize::MAX)
        };
        let sides = columns.forms.iter().filter(|(strand, form)| {
            let spec = &graph.strands[**strand];
            let hanging = [spec.from, spec.to].iter().any(|hub| columns.hangs_on.contains_key(hub));
            **form == Form::Gutter || (**form == Form::Across && !hanging)
        });
        let sides = sides.map(|(strand, _)| {
            let spec = &graph.strands[*strand];
            let relays = [spec.from, spec.to].into_iter().filter(|hub| graph.is_relay(*hub));
            Side {
                from: spec.from,
                to: spec.to,
                halves: relays.map(|hub| (hub, of_half(hub, spec.at(hub).1))).collect(),
                bare: spec.slots.is_empty(),
            }
        });
        Self {
            graph,
            columns,
            hubs,
            strands: strands.collect(),
            x: x.collect(),
            relays: columns.row.keys().copied().filter(|hub| graph.is_relay(*hub)).collect(),
            sides: sides.collect(),
        }
    }

    pub fn lanes(&self) -> usize {
        self.columns.lanes.len()
    }

    /// May this lane stand in the same column as that one?
    pub fn share(&self, one: usize, other: usize) -> bool {
        let (Some(one), Some(other)) = (self.columns.lanes.get(one), self.columns.lanes.get(other)) else {
            return true;
        };
        if one.half.is_some() && other.half.is_some() {
            let level = |half: Option<(usize, bool)>| half.and_then(|(hub, _)| self.columns.level.get(&hub));
            if level(one.half) == level(other.half) {
                return false;
            }
        }
        let beside = one
            .strands
            .iter()
            .any(|strand| other.strands.iter().any(|with| self.columns.overlap(self.graph, *strand, *with)));
        let through = |half: Option<(usize, bool)>, strands: &[usize]| {
            let Some((hub, _)) = half else { return false };
            let level = self.columns.level.get(&hub).copied().unwrap_or(0);
            strands.iter().any(|strand| {
                let (from, to) = self.columns.heights(self.graph, *strand);
                !self.graph.strands[*strand].meets(hub) && from < level && to > level
            })
        };
        !beside && !through(one.half, &other.strands) && !through(other.half, &one.strands)
    }

    pub fn cost(&self, column: &[usize]) -> f64 {
        let at = |lane: usize| column.get(lane).copied().unwrap_or(0);
        let mut spans: Vec<(usize, usize, bool, usize, usize)> = Vec::with_capacity(self.hubs.len());
        for (hub, level, frame, lanes) in &self.hubs {
            let first = lanes.iter().map(|lane| at(*lane)).min().unwrap_or(0);
            let last = lanes.iter().map(|lane| at(*lane)).max().unwrap_or(0);
            spans.push((*hub, *level, *frame, first, last));
        }
        let mut cost = 0.0;
        for (i, one) in spans.iter().enumerate() {
            for other in spans.iter().skip(i + 1) {
                if one.1 == other.1 && one.3.max(other.3) <= one.4.min(other.4) {
                    cost += if one.2 && other.2 { FORBIDDEN } else { BARS };
                }
            }
            cost += WIDTH * (one.4 - one.3) as f64;
            if one.2 && one.4 - one.3 > 2 {
                cost += BROAD;
            }
            if self.relays.contains(&one.0) && one.4 - one.3 != 1 {
                cost += FORBIDDEN;
            }
            for (lane, from, to) in &self.strands {
                let inside = at(*lane) >= one.3 && at(*lane) <= one.4;
                if one.1 > *from && one.1 < *to && inside {
                    cost += if one.2 { FORBIDDEN } else { CROSSED };
                }
            }
        }
        cost += self.sides(&spans, &at);
        let mut used: Vec<usize> = column.to_vec();
        used.sort_unstable();
        used.dedup();
        cost += COLUMN * used.len() as f64;
        for (i, x) in self.x.iter().enumerate() {
            for (j, other) in self.x.iter().enumerate().skip(i + 1) {
                let order = (at(i) as f64 - at(j) as f64) * (x - other);
                if order < 0.0 {
                    cost += ORDER;
                }
            }
        }
        cost
    }

    fn sides(&self, spans: &[(usize, usize, bool, usize, usize)], at: &impl Fn(usize) -> usize) -> f64 {
        let span = |hub: usize| spans.iter().find(|one| one.0 == hub).map(|one| (one.3 as i64, one.4 as i64));
        let mut cost = 0.0;
        for side in &self.sides {
            let (Some(from), Some(to)) = (span(side.from), span(side.to)) else {
                cost += 50.0;
                continue;
            };
            let gap = from.0.max(to.0) - from.1.min(to.1);
            cost += APART * (gap - 1).abs() as f64;
            for (hub, lane) in &side.halves {
                let (own, other) = if *hub == side.to { (to, from) } else { (from, to) };
                let near = if other.0 < own.0 { own.0 } else { own.1 };
                if at(*lane) as i64 != near {
                    cost += if side.bare { FAR_HALF.0 } else { FAR_HALF.1 };
                }
            }
        }
        cost
    }
}
