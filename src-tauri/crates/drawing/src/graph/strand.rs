//! Strands: series runs between two hubs.

use super::slot::{Slots, Touch};
use super::{Graph, Hub, HubKind};

/// A series run, its upper end first.
#[derive(Debug, Clone, Default)]
pub struct Strand {
    pub from: usize,
    pub to: usize,
    pub from_pin: Option<usize>,
    pub to_pin: Option<usize>,
    pub slots: Vec<usize>,
    /// One more than slots.
    pub points: Vec<usize>,
}

impl Strand {
    pub fn first(&self) -> usize {
        self.points.first().copied().unwrap_or(usize::MAX)
    }

    pub fn last(&self) -> usize {
        self.points.last().copied().unwrap_or(usize::MAX)
    }

    pub fn turn(&mut self) {
        std::mem::swap(&mut self.from, &mut self.to);
        std::mem::swap(&mut self.from_pin, &mut self.to_pin);
        self.slots.reverse();
        self.points.reverse();
    }

    pub const fn meets(&self, hub: usize) -> bool {
        self.from == hub || self.to == hub
    }

    /// The hub at the other end.
    pub const fn beyond(&self, hub: usize) -> usize {
        if self.from == hub { self.to } else { self.from }
    }

    /// Pin and point at a hub.
    pub fn at(&self, hub: usize) -> (Option<usize>, usize) {
        if self.from == hub { (self.from_pin, self.first()) } else { (self.to_pin, self.last()) }
    }
}

/// Walks all strands of a graph whose hubs stand.
pub struct Walk<'g> {
    graph: &'g Graph,
    slots: &'g Slots,
    used: Vec<Touch>,
    pub strands: Vec<Strand>,
    /// Points at which a run ended without a hub: hubs from here on, in this order behind the others.
    pub dead: Vec<usize>,
}

impl<'g> Walk<'g> {
    pub fn of(graph: &'g Graph, slots: &'g Slots) -> Self {
        let mut walk = Self { graph, slots, used: Vec::new(), strands: Vec::new(), dead: Vec::new() };
        for pin in slots.pins.places() {
            walk.start_at_pin(pin);
        }
        for hub in graph.hubs.places() {
            let Hub { kind, point, .. } = graph.hubs[hub];
            if matches!(kind, HubKind::Frame(_)) {
                continue;
            }
            for touch in graph.touching(slots, point) {
                if let Touch::Slot(slot) = touch
                    && !walk.used.contains(&touch)
                {
                    walk.run(hub, None, point, slot);
                }
            }
        }
        walk
    }

    fn frame_hub(&self, frame: usize) -> usize {
        let of = |hub: &Hub| hub.kind == HubKind::Frame(frame);
        self.graph.hubs.iter().position(of).unwrap_or(usize::MAX)
    }

    fn start_at_pin(&mut self, pin: usize) {
        if self.used.contains(&Touch::Pin(pin)) {
            return;
        }
        self.used.push(Touch::Pin(pin));
        let spec = self.slots.pins[pin];
        let from = self.frame_hub(spec.frame);
        if let Some(to) = self.graph.bar(spec.point).filter(|_| spec.slot.is_none()) {
            let run = Strand { from, to, from_pin: Some(pin), points: vec![spec.point], ..Strand::default() };
            self.strands.push(run);
            return;
        }
        let free: Vec<Touch> = match spec.slot {
            Some(slot) => vec![Touch::Slot(slot)],
            None => self.slots.at[spec.point].clone(),
        };
        let free: Vec<Touch> = free.into_iter().filter(|touch| !self.used.contains(touch)).collect();
        let other = free.iter().find_map(|touch| match touch {
            Touch::Pin(other) if self.slots.pins[*other].frame != spec.frame => Some(*other),
            _ => None,
        });
        if let Some(other) = other {
            self.used.push(Touch::Pin(other));
            let to = self.frame_hub(self.slots.pins[other].frame);
            self.strands.push(Strand {
                from,
                to,
                from_pin: Some(pin),
                to_pin: Some(other),
                slots: Vec::new(),
                points: vec![spec.point],
            });
        } else if let Some(Touch::Slot(slot)) = free.first() {
            self.run(from, Some(pin), spec.point, *slot);
        }
    }

    fn run(&mut self, from: usize, from_pin: Option<usize>, start: usize, first: usize) {
        let mut strand = Strand { from, from_pin, points: vec![start], ..Strand::default() };
        let (mut point, mut slot) = (start, first);
        loop {
            strand.slots.push(slot);
            self.used.push(Touch::Slot(slot));
            point = self.slots.all[slot].other(point);
            strand.points.push(point);
            if let Some(to) = self.graph.bar(point) {
                strand.to = to;
                break;
            }
            let on = || self.slots.at[point].iter().copied().filter(|touch| *touch != Touch::Slot(slot));
            let pin = on().find_map(|touch| match touch {
                Touch::Pin(pin) if self.slots.pins[pin].slot.is_none_or(|only| only == slot) => Some(pin),
                _ => None,
            });
            if let Some(pin) = pin {
                self.used.push(Touch::Pin(pin));
                strand.to = self.frame_hub(self.slots.pins[pin].frame);
                strand.to_pin = Some(pin);
                break;
            }
            let next = on().find_map(|touch| match touch {
                Touch::Slot(next) if !self.used.contains(&touch) => Some(next),
                _ => None,
            });
            match next {
                Some(next) if on().count() == 1 => slot = next,
                _ => {
                    strand.to = self.graph.hubs.len() + self.dead.len();
                    self.dead.push(point);
                    break;
                }
            }
        }
        self.strands.push(strand);
    }
}
