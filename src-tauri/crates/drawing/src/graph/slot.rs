//! Slots: parts that stand for each other between the same two points; and the pins of boxes.

use std::collections::BTreeSet;

use super::frame::{Frame, Frames};
use super::net::Net;
use crate::table::Table;

/// One place between two points, and everything that may stand there: terminal or test lead, fuse or new fuse.
#[derive(Debug, Clone, Default)]
pub struct Slot {
    pub from: usize,
    pub to: usize,
    /// The usual one first.
    pub parts: Vec<usize>,
}

impl Slot {
    pub const fn other(&self, point: usize) -> usize {
        if self.from == point { self.to } else { self.from }
    }

    pub fn usual(&self) -> usize {
        self.parts.first().copied().unwrap_or(usize::MAX)
    }
}

/// Where a wire meets a box.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Pin {
    pub frame: usize,
    pub point: usize,
    /// The slot through which it is reached, where the point lies inside the box.
    pub slot: Option<usize>,
}

/// What touches a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Touch {
    Slot(usize),
    Pin(usize),
}

/// Slots and pins, and where they touch.
#[derive(Debug, Clone, Default)]
pub struct Slots {
    pub all: Table<Slot>,
    pub pins: Table<Pin>,
    pub at: Table<Vec<Touch>>,
}

impl Slots {
    pub fn of(net: &Net, frames: &Frames, left_out: &BTreeSet<usize>) -> Self {
        let mut slots = Self { at: Table::filled(&Vec::new(), net.points.len()), ..Self::default() };
        for part in net.parts.places() {
            if part != net.battery && frames.of_part[part].is_none() {
                slots.add(net, part);
            }
        }
        for slot in slots.all.places() {
            // Leads and loads that are only sometimes there are drawn when they are.
            let spare = slots.all[slot].parts.iter().all(|part| {
                let spec = &net.parts[*part];
                !spec.usual && spec.odds == 0.0
            });
            if !spare && !left_out.contains(&slot) {
                let (from, to) = (slots.all[slot].from, slots.all[slot].to);
                slots.at[from].push(Touch::Slot(slot));
                slots.at[to].push(Touch::Slot(slot));
            }
        }
        for frame in frames.all.places() {
            slots.pins_of(net, frames, frame);
        }
        slots
    }

    fn add(&mut self, net: &Net, part: usize) {
        let [from, to] = net.parts[part].ends.as_slice() else { return };
        let same = |slot: &Slot| (slot.from, slot.to) == (*from, *to) || (slot.from, slot.to) == (*to, *from);
        let twin = self.all.places().find(|slot| {
            let there = self.all[*slot].usual();
            same(&self.all[*slot]) && (net.parts[part].conditional && net.parts[there].conditional)
        });
        match twin {
            Some(slot) if net.parts[part].usual && !net.parts[self.all[slot].usual()].usual => {
                self.all[slot].parts.insert(0, part);
            }
            Some(slot) => self.all[slot].parts.push(part),
            None => {
                self.all.push(Slot { from: *from, to: *to, parts: vec![part] });
            }
        }
    }

    fn slots_at(&self, point: usize) -> Vec<usize> {
        let slot = |touch: &Touch| match touch {
            Touch::Slot(slot) => Some(*slot),
            Touch::Pin(_) => None,
        };
        self.at[point].iter().filter_map(slot).collect()
    }

    fn pins_of(&mut self, net: &Net, frames: &Frames, frame: usize) {
        let own = &frames.all[frame];
        let mut points: BTreeSet<usize> = own.direct.iter().copied().collect();
        for end in own.parts.iter().flat_map(|part| net.parts[*part].ends.iter().copied()) {
            if !self.slots_at(end).is_empty() {
                points.insert(end);
            }
        }
        points.extend(own.sockets.iter().copied());
        points.extend(own.contacts.iter().flat_map(|contact| net.parts[*contact].ends.iter().copied()));
        if own.is_relay() {
            points.extend(own.coil_ends.iter().copied());
            self.behind_sockets(net, own, &mut points);
        } else {
            let idle = |rail: usize| {
                let mut on = own.parts.iter().filter(|part| net.parts[**part].touches(rail)).peekable();
                on.peek().is_some() && on.all(|part| net.parts[*part].odds == 0.0)
            };
            points.retain(|point| (*point != net.plus && *point != net.minus) || !idle(*point));
        }
        for point in points {
            let inside = frames.of_point[point].is_some();
            let terms = self.slots_at(point);
            let slots: Vec<Option<usize>> =
                if inside && !terms.is_empty() { terms.into_iter().map(Some).collect() } else { vec![None] };
            for slot in slots {
                let pin = self.pins.push(Pin { frame, point, slot });
                self.at[point].push(Touch::Pin(pin));
            }
        }
    }

    /// A socket joint is part of the wire outside: the coil's wire enters through it, not beside it.
    fn behind_sockets(&self, net: &Net, own: &Frame, points: &mut BTreeSet<usize>) {
        for socket in &own.sockets {
            for slot in self.slots_at(*socket) {
                let outer = self.all[slot].other(*socket);
                let contact = own.contacts.iter().any(|contact| net.parts[*contact].touches(outer));
                if !contact {
                    points.remove(&outer);
                }
            }
        }
    }
}
