//! The sheet while it fills: what lies where, so that texts and discs find free places.

use std::collections::BTreeMap;

use crate::graph::Graph;
use crate::known::{Known, Read};
use crate::layout::item::{Given, Item, bead_text, bead_width, radius};
use crate::layout::{Layout, Rect};
use crate::picture::{Bead, Disc, Eye, Lead, Link, Look, Picture, Ring, Touch, Wire};
use crate::sheet::Sheet;
use crate::words::Speech;

/// Sort of thing that takes room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sort {
    Text,
    Frame,
    Disc,
    Bead,
    Symbol,
    Eye,
    Plate,
    Capsule,
    Stub,
}

/// Whom it belongs to: a thing may lie on what is its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Owner {
    Nobody,
    Part(usize),
    Hub(usize),
    Point(usize),
}

/// Room that is taken.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Taken {
    pub rect: Rect,
    pub sort: Sort,
    pub owner: Owner,
}

/// A line that a text shouldn't lie on.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stroke {
    pub from: (f64, f64),
    pub to: (f64, f64),
}

/// The sheet.
pub(crate) struct Scene<'s> {
    pub sheet: &'s Sheet,
    pub given: Given<'s>,
    pub layout: &'s Layout,
    pub picture: Picture,
    pub taken: Vec<Taken>,
    pub strokes: Vec<Stroke>,
    /// Where points are drawn.
    pub placed: BTreeMap<usize, (f64, f64)>,
    /// Symbols whose names and discs wait until everything else lies.
    pub waiting: Vec<Waiting>,
    /// Readings for which there is no room on their wire.
    pub lifted: Vec<Lifted>,
    pub colors: BTreeMap<usize, Vec<String>>,
}

/// A reading that looks for a place beside its point.
#[derive(Debug, Clone)]
pub(crate) struct Lifted {
    pub x: f64,
    pub y: f64,
    pub read: Read,
    pub points: Vec<usize>,
}

/// A name (and perhaps a disc) that looks for its place.
#[derive(Debug, Clone)]
pub(crate) struct Waiting {
    pub lines: Vec<String>,
    pub look: Look,
    pub parts: Vec<usize>,
    pub owner: Owner,
    /// Middle of what is named, and half its size.
    pub x: f64,
    pub y: f64,
    pub half: (f64, f64),
    /// Its suspects' disc.
    pub disc: Option<Item>,
    /// Places to try first: left edge and upper edge of the text.
    pub first: Vec<(f64, f64)>,
    /// Only those.
    pub only: bool,
    /// Before readings find their place on rails.
    pub early: bool,
}

impl<'s> Scene<'s> {
    pub fn graph(&self) -> &'s Graph {
        self.given.graph
    }

    pub fn known(&self) -> &'s Known {
        self.given.known
    }

    pub fn speech(&self) -> &'s Speech<'s> {
        self.given.speech
    }

    pub fn take(&mut self, rect: Rect, sort: Sort, owner: Owner) {
        self.taken.push(Taken { rect, sort, owner });
    }

    pub fn part_ids(&self, parts: &[usize]) -> Vec<String> {
        parts.iter().map(|part| self.graph().net.parts[*part].id.clone()).collect()
    }

    pub fn point_id(&self, point: usize) -> String {
        self.graph().net.points[point].id.clone()
    }

    /// Parts of slots.
    pub fn in_slots(&self, slots: &[usize]) -> Vec<usize> {
        slots.iter().flat_map(|slot| self.graph().slots[*slot].parts.iter().copied()).collect()
    }

    pub fn wire(&mut self, path: &[(f64, f64)], look: Look, colors: Vec<String>, slots: &[usize]) {
        self.stroke(path);
        let parts = self.in_slots(slots);
        let parts = self.part_ids(&parts);
        let path = path.iter().map(|(x, y)| [round(*x), round(*y)]).collect();
        self.picture.wires.push(Wire { path, colors, look, parts });
    }

    pub fn link(&mut self, path: &[(f64, f64)], dashed: bool, look: Look) {
        let path = path.iter().map(|(x, y)| [round(*x), round(*y)]).collect();
        self.picture.links.push(Link { path, dashed, look });
    }

    pub fn stroke(&mut self, path: &[(f64, f64)]) {
        for (from, to) in path.iter().zip(path.iter().skip(1)) {
            self.strokes.push(Stroke { from: *from, to: *to });
        }
    }

    pub fn bead_text(&self, read: &Read) -> String {
        bead_text(self.given, read)
    }

    pub fn bead_width(&self, read: &Read) -> f64 {
        bead_width(self.given, read)
    }

    pub fn bead(&mut self, x: f64, y: f64, read: &Read, points: &[usize], across: Option<[[f64; 2]; 2]>) {
        let (width, height) = (self.bead_width(read), 28.0);
        let x = x.clamp(width / 2.0 + 1.0, (self.layout.width - width / 2.0 - 1.0).max(width / 2.0 + 1.0));
        let owner = points.first().map_or(Owner::Nobody, |point| Owner::Point(*point));
        self.take(around(x, y, width, height), Sort::Bead, owner);
        self.picture.beads.push(Bead {
            x: round(x),
            y: round(y),
            width: round(width),
            height,
            number: read.number.clone(),
            unit: read.unit.to_owned(),
            text: self.bead_text(read),
            judged: read.judged,
            now: read.now,
            across,
            points: points.iter().map(|point| self.point_id(*point)).collect(),
            observation: read.id.clone(),
        });
    }

    pub fn eye(&mut self, x: f64, y: f64, lead: Lead, point: usize) {
        self.take(around(x, y, 24.0, 24.0), Sort::Eye, Owner::Point(point));
        self.picture.eyes.push(Eye { x: round(x), y: round(y), lead, point: self.point_id(point) });
    }

    pub fn ring(&mut self, x: f64, y: f64, point: usize) {
        self.picture.rings.push(Ring { x: round(x), y: round(y), point: self.point_id(point) });
        self.put(point, x, y);
    }

    pub fn disc(&mut self, x: f64, y: f64, share: f64, suspects: &[usize], owner: Owner) {
        let radius = radius(share);
        let most = share >= self.known().most - 1e-9;
        // Readings never make anything certain.
        let percent = (share * 100.0).round().min(99.0);
        let size = (radius * 0.8).clamp(15.0, 24.0);
        let signed = format!("{percent:.0}%");
        let fits = crate::text::width(&signed, size) <= 2.0 * radius - 6.0;
        let text = if fits && (share >= 0.3 || most) { signed } else { format!("{percent:.0}") };
        self.take(around(x, y, 2.0 * radius - 2.0, 2.0 * radius - 2.0), Sort::Disc, owner);
        self.picture.discs.push(Disc {
            x: round(x),
            y: round(y),
            radius: round(radius),
            share,
            text,
            size: round(size),
            parts: self.part_ids(suspects),
        });
    }

    /// A point is drawn here: a tap near it finds it. The first place counts.
    pub fn put(&mut self, point: usize, x: f64, y: f64) {
        if self.placed.contains_key(&point) {
            return;
        }
        self.placed.insert(point, (x, y));
        let touch = Touch { x: round(x), y: round(y), size: 48.0, point: self.point_id(point) };
        self.picture.touches.push(touch);
    }

    /// Reading, lead or ring of a point, each in its place.
    pub fn mark(&mut self, point: usize, at: (f64, f64), bead_at: (f64, f64), ring: bool) {
        if self.placed.contains_key(&point) {
            return;
        }
        let known = self.known();
        if let Some(read) = known.read.get(&point) {
            self.bead(bead_at.0, bead_at.1, read, &[point], None);
        }
        match known.leads.get(&point) {
            Some(lead) => {
                let below = known.read.contains_key(&point) && at == bead_at;
                let y = if below { at.1 + 29.0 } else { at.1 };
                self.eye(at.0, y, *lead, point);
                self.put(point, at.0, y);
            }
            None if known.read.contains_key(&point) => self.put(point, bead_at.0, bead_at.1),
            None if ring => self.ring(at.0, at.1, point),
            None => self.put(point, at.0, at.1),
        }
    }

    /// Colors of the wire in a slot: those of the connectors at its ends.
    pub fn color(&self, slot: usize) -> Option<Vec<String>> {
        self.colors.get(&slot).cloned()
    }

    pub fn color_of(&self, slots: &[usize]) -> Vec<String> {
        slots.iter().find_map(|slot| self.color(*slot)).unwrap_or_default()
    }
}

/// A rectangle round its middle.
pub(super) fn around(x: f64, y: f64, width: f64, height: f64) -> Rect {
    Rect { x: x - width / 2.0, y: y - height / 2.0, width, height }
}

/// Tenths of px are enough.
pub(super) fn round(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}
