//! From the circuit file to hubs (rails, splices, boxes) and strands (series runs between two hubs): a bar-visibility drawing
//! (Tamassia and Tollis, "A unified approach to visibility representations of planar graphs", 1986) needs no more.

pub(crate) mod frame;
pub(crate) mod net;
pub(crate) mod slot;
pub(crate) mod strand;

use std::collections::BTreeSet;

use circuit::Circuit;

use frame::Frames;
use net::{Kind, Net};
use slot::{Pin, Slots, Touch};
use strand::{Strand, Walk};

use crate::table::Table;

/// What strands join.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum HubKind {
    /// Rail of the positive post.
    Top,
    /// Rail of the negative post.
    Bottom,
    /// A point where three or more runs meet.
    #[default]
    Splice,
    /// A box, by its number.
    Frame(usize),
    /// A run that ends nowhere.
    Dead,
}

/// Bar or box.
#[derive(Debug, Clone, Default)]
pub struct Hub {
    pub kind: HubKind,
    /// The point of a bar.
    pub point: usize,
    pub potential: f64,
}

impl Hub {
    pub const fn frame(&self) -> Option<usize> {
        match self.kind {
            HubKind::Frame(frame) => Some(frame),
            _ => None,
        }
    }
}

/// What lies in series with the battery, up to the first branching.
#[derive(Debug, Clone, Default)]
pub struct Rail {
    /// The battery's post.
    pub start: usize,
    pub slots: Vec<usize>,
    /// From the post to the bus: one more than slots.
    pub points: Vec<usize>,
}

impl Rail {
    pub fn bus(&self) -> usize {
        self.points.last().copied().unwrap_or(self.start)
    }
}

/// Hubs and strands of a circuit.
#[derive(Debug, Clone, Default)]
pub struct Graph {
    pub net: Net,
    pub frames: Frames,
    pub slots: Table<slot::Slot>,
    pub pins: Table<Pin>,
    pub hubs: Table<Hub>,
    pub strands: Table<Strand>,
    pub top: Rail,
    pub bottom: Rail,
    pub top_hub: usize,
    pub bottom_hub: usize,
}

impl Graph {
    /// Hubs and strands without the slots that are left out. Nothing for a circuit without a battery.
    pub fn of(circuit: &Circuit, left_out: &BTreeSet<usize>) -> Option<Self> {
        let net = Net::of(circuit)?;
        let frames = Frames::of(&net, circuit);
        let slots = Slots::of(&net, &frames, left_out);
        let top = rail(&net, &frames, &slots, net.plus);
        let bottom = rail(&net, &frames, &slots, net.minus);
        let mut graph = Self { net, frames, top, bottom, ..Self::default() };
        graph.hubs(&slots);
        let walk = Walk::of(&graph, &slots);
        let (strands, dead) = (walk.strands, walk.dead);
        for point in dead {
            let potential = graph.net.potential(point);
            graph.hubs.push(Hub { kind: HubKind::Dead, point, potential });
        }
        graph.strands = strands.into();
        graph.slots = slots.all;
        graph.pins = slots.pins;
        for place in graph.strands.places() {
            graph.upright(place);
        }
        Some(graph)
    }

    fn hubs(&mut self, slots: &Slots) {
        let frames = self.frames.all.places();
        for frame in frames {
            let of: Vec<f64> = slots
                .pins
                .iter()
                .filter(|pin| pin.frame == frame)
                .map(|pin| self.net.potential(pin.point))
                .collect();
            let potential = of.iter().sum::<f64>() / of.len().max(1) as f64;
            self.hubs.push(Hub { kind: HubKind::Frame(frame), point: usize::MAX, potential });
        }
        let (top, bottom) = (self.top.bus(), self.bottom.bus());
        self.top_hub = self.hubs.push(Hub { kind: HubKind::Top, point: top, potential: 1.0 });
        self.bottom_hub = self.hubs.push(Hub { kind: HubKind::Bottom, point: bottom, potential: 0.0 });
        for point in self.net.points.places() {
            if point == top || point == bottom || self.frames.of_point[point].is_some() {
                continue;
            }
            let touching = self.touching(slots, point);
            let kind = match touching.as_slice() {
                [_, _, _, ..] => HubKind::Splice,
                [Touch::Slot(_)] => HubKind::Dead,
                _ => continue,
            };
            self.hubs.push(Hub { kind, point, potential: self.net.potential(point) });
        }
    }

    /// What touches a point, without the slots that rails took in.
    pub fn touching(&self, slots: &Slots, point: usize) -> Vec<Touch> {
        let on_rail = |touch: &Touch| match touch {
            Touch::Slot(slot) => self.top.slots.contains(slot) || self.bottom.slots.contains(slot),
            Touch::Pin(_) => false,
        };
        slots.at[point].iter().copied().filter(|touch| !on_rail(touch)).collect()
    }

    /// The bar at a point.
    pub fn bar(&self, point: usize) -> Option<usize> {
        self.hubs.iter().position(|hub| hub.frame().is_none() && hub.point == point)
    }

    fn rank(&self, hub: usize) -> i8 {
        match self.hubs[hub].kind {
            HubKind::Top => 1,
            HubKind::Bottom => -1,
            _ => 0,
        }
    }

    /// Turns a strand so that its first end is the upper one.
    fn upright(&mut self, place: usize) {
        let strand = &self.strands[place];
        let (first, last) = (self.net.potential(strand.first()), self.net.potential(strand.last()));
        let (from, to) = (self.rank(strand.from), self.rank(strand.to));
        let up = if from != to {
            from > to
        } else if !strand.slots.is_empty() {
            first >= last
        } else if self.hubs[strand.from].frame().is_some() {
            first <= self.hubs[strand.from].potential
        } else {
            true
        };
        if !up {
            self.strands[place].turn();
        }
    }

    /// Is this hub a box that is drawn as a relay?
    pub fn is_relay(&self, hub: usize) -> bool {
        self.hubs[hub].frame().is_some_and(|frame| self.frames.all[frame].is_relay())
    }

    pub fn is_frame(&self, hub: usize) -> bool {
        self.hubs[hub].frame().is_some()
    }

    /// Between two boxes.
    pub fn is_side(&self, strand: usize) -> bool {
        self.is_frame(self.strands[strand].from) && self.is_frame(self.strands[strand].to)
    }

    /// Prior odds of all that stands in a slot.
    pub fn odds(&self, slot: usize) -> f64 {
        self.slots[slot].parts.iter().map(|part| self.net.parts[*part].odds).sum()
    }
}

fn rail(net: &Net, frames: &Frames, slots: &Slots, start: usize) -> Rail {
    let series = |kind: Kind| kind.joins() || matches!(kind, Kind::Fuse | Kind::Switch);
    let mut rail = Rail { start, slots: Vec::new(), points: vec![start] };
    let mut point = start;
    loop {
        let mut on = slots.at[point]
            .iter()
            .filter(|touch| !rail.slots.iter().any(|slot| **touch == Touch::Slot(*slot)));
        let (Some(Touch::Slot(slot)), None) = (on.next(), on.next()) else { break };
        let part = slots.all[*slot].parts.first().copied().unwrap_or(usize::MAX);
        if !series(net.parts[part].kind) || rail.slots.len() > 40 {
            break;
        }
        rail.slots.push(*slot);
        point = slots.all[*slot].other(point);
        rail.points.push(point);
    }
    let mut beyond =
        slots.at[point].iter().filter(|touch| !rail.slots.iter().any(|slot| **touch == Touch::Slot(*slot)));
    let only_box = matches!((beyond.next(), beyond.next()), (Some(Touch::Pin(_)), None) | (None, _));
    if frames.of_point[point].is_some() || only_box {
        return Rail { start, slots: Vec::new(), points: vec![start] };
    }
    rail
}
