//! From a layout to the picture: first what has its place, then what looks for one.

mod boxes;
mod listed;
mod names;
mod numbers;
mod plates;
mod rails;
mod run;
pub(crate) mod scene;
mod sides;
mod stubs;

use std::collections::BTreeMap;

use circuit::Circuit;

use crate::columns::Form;
use crate::graph::{Graph, HubKind};
use crate::layout::Layout;
use crate::layout::item::Given;
use crate::picture::{Bar, Look, Picture};
use crate::sheet::Sheet;
use scene::{Scene, round};

/// Draws a layout.
pub(crate) fn draw(sheet: &Sheet, given: Given<'_>, circuit: &Circuit, layout: &Layout) -> Picture {
    let picture = Picture {
        width: round(layout.width),
        height: layout.height.ceil(),
        drawn: true,
        folded: layout.folded,
        ..Picture::default()
    };
    let mut scene = Scene {
        sheet,
        given,
        layout,
        picture,
        taken: Vec::new(),
        strokes: Vec::new(),
        placed: BTreeMap::new(),
        waiting: Vec::new(),
        lifted: Vec::new(),
        colors: colors(sheet, circuit),
    };
    let numbers = numbers::Numbers::of(&sheet.graph, circuit);
    scene.strands();
    scene.splices();
    scene.boxes(&numbers);
    scene.sides(&numbers);
    scene.names(true);
    scene.rails();
    scene.names(false);
    scene.lifted();
    scene.plates();
    scene.rail_names();
    scene.list();
    scene.picture
}

impl Scene<'_> {
    fn strands(&mut self) {
        for strand in self.sheet.columns.all(Form::Down) {
            let spec = &self.graph().strands[strand];
            let Some(x) = self.x(strand) else { continue };
            let height = self.layout.boxes.get(&spec.from).map_or(0.0, |rect| rect.height);
            let (Some(from), Some(to)) = (self.layout.y.get(&spec.from), self.layout.y.get(&spec.to)) else {
                continue;
            };
            let (from, to) = (from + height, *to);
            let run = self.layout.items.get(&strand).map(Vec::as_slice).unwrap_or_default();
            if self.layout.stubs.contains(&strand) {
                self.stub(strand, x, from, to);
            } else if run.is_empty() {
                self.wire(&[(x, from), (x, to)], Look::Plain, Vec::new(), &[]);
            } else {
                self.run(&[(x, from), (x, to)], run, false);
            }
        }
    }

    fn x(&self, strand: usize) -> Option<f64> {
        let column = self.sheet.columns.column_of(strand)?;
        self.layout.columns.get(column).copied()
    }

    fn splices(&mut self) {
        let hubs = self.graph().hubs.places();
        for hub in hubs {
            let spec = &self.graph().hubs[hub];
            if spec.kind != HubKind::Splice {
                continue;
            }
            let on = |strand: &usize| {
                self.graph().strands[*strand].meets(hub) && !self.layout.stubs.contains(strand)
            };
            let mut x: Vec<f64> =
                self.sheet.columns.all(Form::Down).filter(on).filter_map(|strand| self.x(strand)).collect();
            x.sort_by(f64::total_cmp);
            x.dedup_by(|one, other| (*one - *other).abs() < 1.0);
            let (Some(first), Some(last), Some(y)) =
                (x.first().copied(), x.last().copied(), self.layout.y.get(&hub).copied())
            else {
                continue;
            };
            self.picture.bars.push(Bar {
                x: round(first),
                y: round(y),
                to_x: round(last),
                to_y: round(y),
                look: Look::Plain,
                points: vec![self.point_id(spec.point)],
            });
            self.stroke(&[(first, y), (last, y)]);
            // Between two wires, where a reading hides none of them.
            let gap = x
                .iter()
                .zip(x.iter().skip(1))
                .max_by(|one, other| (one.1 - one.0).total_cmp(&(other.1 - other.0)));
            let middle = gap.map_or(first, |(from, to)| (from + to) / 2.0);
            let both =
                self.known().read.contains_key(&spec.point) && self.known().leads.contains_key(&spec.point);
            if both {
                self.mark(spec.point, (middle + 34.0, y), (middle - 16.0, y), true);
            } else {
                self.mark(spec.point, (middle, y), (middle, y), true);
            }
        }
    }
}

/// Colors of slots, from the connectors at their ends.
fn colors(sheet: &Sheet, circuit: &Circuit) -> BTreeMap<usize, Vec<String>> {
    let graph: &Graph = &sheet.graph;
    let of = |point: usize| {
        let id = &graph.net.points[point].id;
        let pins = circuit.connectors.iter().flat_map(|connector| &connector.pins);
        pins.filter(|pin| pin.point == *id && !pin.color.is_empty())
            .map(|pin| pin.color.iter().map(|color| format!("{color:?}").to_uppercase()).collect::<Vec<_>>())
            .next()
    };
    let joins = |slot: &usize| graph.net.parts[graph.slots[*slot].usual()].kind.joins();
    let slots = graph.slots.places().filter(joins);
    slots
        .filter_map(|slot| {
            let spec = &graph.slots[slot];
            Some((slot, of(spec.from).or_else(|| of(spec.to))?))
        })
        .collect()
}
