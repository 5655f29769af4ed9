//! Fixed places of points and parts on a run, so that nothing moves while it needn't.

use super::item::Run;
use crate::graph::Graph;

/// Homes of points and slots.
pub(super) struct Homes {
    points: Vec<f64>,
    slots: Vec<f64>,
    whole: f64,
}

impl Homes {
    pub fn of(graph: &Graph, run: Run) -> Self {
        let last = run.points(graph).len().saturating_sub(1);
        let mut homes = Self { points: Vec::new(), slots: Vec::new(), whole: 0.0 };
        for place in 0..=last {
            let inner = if place > 0 && place < last { 7.0 } else { 0.0 };
            homes.whole += inner;
            homes.points.push(homes.whole);
            homes.whole += inner;
            if let Some(slot) = run.slots(graph).get(place) {
                let joins = graph.net.parts[graph.slots[*slot].usual()].kind.joins();
                let room = if joins { 18.0 } else { 44.0 };
                homes.slots.push(homes.whole + room / 2.0);
                homes.whole += room;
            }
        }
        homes.whole = homes.whole.max(1.0);
        homes
    }

    pub fn point(&self, place: usize) -> f64 {
        self.points.get(place).copied().unwrap_or(0.0) / self.whole
    }

    pub fn slot(&self, place: usize) -> f64 {
        self.slots.get(place).copied().unwrap_or(0.0) / self.whole
    }
}
