//! Boxes: modules, relays, supplies, sensors — and which parts lie inside them.

use std::collections::BTreeSet;

use circuit::Circuit;

use super::net::{Kind, Net};
use crate::table::Table;

/// Sort of box.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum FrameKind {
    #[default]
    Module,
    Relay,
    /// A regulated supply outside of modules: an alternator.
    Supply,
    /// Resistors that all lead to one module.
    Sensor,
}

/// A box round parts.
#[derive(Debug, Clone, Default)]
pub struct Frame {
    /// Id of the module, or of the part it is drawn for.
    pub id: String,
    pub kind: FrameKind,
    pub parts: Vec<usize>,
    pub coil: Option<usize>,
    pub contacts: Vec<usize>,
    /// Where the coil's wires come in: beyond its socket joints.
    pub coil_ends: Vec<usize>,
    /// Points whose pins count although only parts of the box touch them.
    pub direct: Vec<usize>,
    /// Points between the coil and its socket joints.
    pub sockets: Vec<usize>,
}

impl Frame {
    pub fn is_relay(&self) -> bool {
        self.kind == FrameKind::Relay
    }
}

/// All boxes, and who is inside.
#[derive(Debug, Clone, Default)]
pub struct Frames {
    pub all: Table<Frame>,
    /// The box of a part.
    pub of_part: Table<Option<usize>>,
    /// The box of a point that lies inside one.
    pub of_point: Table<Option<usize>>,
}

impl Frames {
    pub fn of(net: &Net, circuit: &Circuit) -> Self {
        let mut frames = Self {
            all: Table::default(),
            of_part: Table::filled(&None, net.parts.len()),
            of_point: Table::filled(&None, net.points.len()),
        };
        frames.modules(net, circuit);
        frames.drivers(net);
        frames.relays(net);
        frames.supplies(net);
        frames.sensors(net);
        for part in net.parts.places() {
            if let Some(frame) = frames.of_part[part] {
                frames.all[frame].parts.push(part);
            }
        }
        frames
    }

    fn free(&self, part: usize) -> bool {
        self.of_part[part].is_none()
    }

    fn modules(&mut self, net: &Net, circuit: &Circuit) {
        for module in &circuit.modules {
            let frame = self.all.push(Frame { id: module.id.clone(), ..Frame::default() });
            let own: Vec<usize> =
                module.components.iter().filter_map(|id| net.part_of.get(id).copied()).collect();
            self.inside(net, frame, &own);
            let looked_at = own.iter().flat_map(|part| net.parts[*part].needs.iter().copied());
            let messages: BTreeSet<usize> = looked_at
                .filter(|point| !net.points[*point].reachable && self.of_point[*point].is_none())
                .collect();
            for message in messages {
                // What stands for "no message" is no part of the vehicle.
                let silent = net.points[message].parts.iter().copied();
                silent
                    .filter(|part| net.parts[*part].odds == 0.0 && net.parts[*part].kind == Kind::Resistor)
                    .for_each(|part| self.of_part[part] = Some(frame));
                self.all[frame].direct.push(message);
            }
        }
    }

    /// Everything that hangs together with these parts through points that no lead reaches.
    fn inside(&mut self, net: &Net, frame: usize, own: &[usize]) {
        let hidden =
            |part: usize| net.parts[part].ends.iter().copied().filter(|end| !net.points[*end].reachable);
        let mut todo: Vec<usize> = own.iter().flat_map(|part| hidden(*part)).collect();
        let mut seen = BTreeSet::new();
        while let Some(point) = todo.pop() {
            if !seen.insert(point) {
                continue;
            }
            self.of_point[point] = Some(frame);
            for part in net.points[point].parts.iter().copied() {
                let other = self.of_part[part].is_some_and(|of| of != frame);
                // A terminal with one end in reach stays on the wire outside.
                let terminal =
                    net.parts[part].kind.joins() && hidden(part).count() < net.parts[part].ends.len();
                if !other && !terminal {
                    self.of_part[part] = Some(frame);
                    todo.extend(hidden(part));
                }
            }
        }
        for part in own {
            self.of_part[*part] = Some(frame);
        }
    }

    fn relays(&mut self, net: &Net) {
        let mut coils: Vec<usize> = net
            .parts
            .places()
            .filter(|part| net.parts[*part].kind == Kind::Coil && self.free(*part))
            .collect();
        // The relay itself before a spare one in its socket.
        coils.sort_by_key(|coil| (!net.parts[*coil].usual, *coil));
        for coil in coils {
            if !self.free(coil) {
                continue;
            }
            let contacts: Vec<usize> = net
                .parts
                .places()
                .filter(|part| net.parts[*part].coil == Some(coil) && self.free(*part))
                .collect();
            if contacts.is_empty() {
                continue;
            }
            let frame = self.all.push(Frame {
                id: net.parts[coil].id.clone(),
                kind: FrameKind::Relay,
                coil: Some(coil),
                ..Frame::default()
            });
            self.of_part[coil] = Some(frame);
            contacts.iter().for_each(|contact| self.of_part[*contact] = Some(frame));
            let mut coil_ends = Vec::new();
            for end in net.parts[coil].ends.iter().copied() {
                let outer = outer_end(net, coil, end);
                if outer != end {
                    self.all[frame].sockets.push(end);
                    self.of_point[end] = Some(frame);
                }
                coil_ends.push(outer);
            }
            for part in net.parts.places() {
                let spec = &net.parts[part];
                let over_contact = contacts.iter().any(|contact| spec.same_ends(&net.parts[*contact]));
                let over_coil = spec.kind == Kind::Coil
                    && spec.ends.iter().all(|end| coil_ends.contains(end) || net.parts[coil].touches(*end));
                if self.free(part) && spec.kind != Kind::Wire && (over_contact || over_coil) {
                    self.of_part[part] = Some(frame);
                }
            }
            for part in net.parts.places() {
                let of_spare = net.parts[part].coil.is_some_and(|coil| self.of_part[coil] == Some(frame));
                if self.free(part) && of_spare {
                    self.of_part[part] = Some(frame);
                }
            }
            self.all[frame].contacts = contacts;
            self.all[frame].coil_ends = coil_ends;
        }
    }

    fn supplies(&mut self, net: &Net) {
        for part in net.parts.places() {
            if net.parts[part].kind == Kind::Supply && self.free(part) {
                self.around(net, part, FrameKind::Supply);
            }
        }
    }

    /// Transistors that belong to no module: with what lies between their points a box of their own (a coil with its stage).
    fn drivers(&mut self, net: &Net) {
        for part in net.parts.places() {
            if matches!(net.parts[part].kind, Kind::HighDriver | Kind::LowDriver) && self.free(part) {
                self.around(net, part, FrameKind::Supply);
            }
        }
    }

    /// A box round a part and all that lies between its points and those it looks at.
    fn around(&mut self, net: &Net, first: usize, kind: FrameKind) {
        let frame = self.all.push(Frame { id: net.parts[first].id.clone(), kind, ..Frame::default() });
        let mut points: BTreeSet<usize> = BTreeSet::new();
        let mut next = Some(first);
        while let Some(part) = next {
            self.of_part[part] = Some(frame);
            points.extend(net.parts[part].ends.iter().chain(&net.parts[part].needs).copied());
            next = net.parts.places().find(|other| {
                let spec = &net.parts[*other];
                let between = spec.ends.iter().all(|end| points.contains(end));
                let moved = spec.coil.is_some_and(|coil| self.of_part[coil] == Some(frame));
                let alike = spec.kind == Kind::LowDriver || spec.kind == Kind::HighDriver;
                let beside = alike && spec.ends.iter().filter(|end| points.contains(end)).count() > 1;
                let inside = spec.kind == Kind::Coil
                    && !spec.usual
                    && spec.ends.iter().any(|end| !net.points[*end].reachable);
                let fits = between
                    || moved
                    || beside
                    || (inside && spec.ends.iter().any(|end| points.contains(end)));
                self.free(*other) && !spec.kind.joins() && spec.kind != Kind::Battery && fits
            });
        }
        let parts: Vec<usize> =
            net.parts.places().filter(|part| self.of_part[*part] == Some(frame)).collect();
        for point in points {
            let outside = net.points[point].parts.iter().any(|part| !parts.contains(part));
            if !outside
                || (!net.points[point].reachable
                    && net.points[point].parts.iter().all(|part| !net.parts[*part].kind.joins()))
            {
                self.of_point[point] = Some(frame);
            }
            if outside {
                self.all[frame].direct.push(point);
            }
        }
    }

    /// A divider whose every tap is wired to one and the same module (a three-wire sensor).
    fn sensors(&mut self, net: &Net) {
        let soft = |part: usize| matches!(net.parts[part].kind, Kind::Resistor | Kind::Thermistor);
        for first in net.parts.places() {
            if !soft(first) || !self.free(first) {
                continue;
            }
            let mut group = vec![first];
            let mut points: BTreeSet<usize> = net.parts[first].ends.iter().copied().collect();
            while let Some(more) = net.parts.places().find(|part| {
                soft(*part)
                    && self.free(*part)
                    && !group.contains(part)
                    && net.parts[*part].ends.iter().any(|end| points.contains(end))
            }) {
                group.push(more);
                points.extend(net.parts[more].ends.iter().copied());
            }
            let leads: Option<BTreeSet<usize>> =
                points.iter().map(|point| self.module_behind(net, *point, &group)).collect();
            if group.len() > 1 && leads.is_some_and(|modules| modules.len() == 1) {
                let frame = self.all.push(Frame {
                    id: net.parts[first].id.clone(),
                    kind: FrameKind::Sensor,
                    direct: points.into_iter().collect(),
                    ..Frame::default()
                });
                group.iter().for_each(|part| self.of_part[*part] = Some(frame));
            }
        }
    }

    fn module_behind(&self, net: &Net, from: usize, group: &[usize]) -> Option<usize> {
        let (mut point, mut last) = (from, None);
        for _ in 0..12 {
            let mut on = net.points[point].parts.iter().copied().filter(|part| {
                let spec = &net.parts[*part];
                Some(*part) != last
                    && !group.contains(part)
                    && spec.kind.joins()
                    && self.free(*part)
                    && spec.usual
            });
            let next = on.next()?;
            if on.next().is_some() {
                return None;
            }
            last = Some(next);
            point = net.other_end(next, point);
            if self.of_point[point].is_some() {
                return self.of_point[point];
            }
        }
        None
    }
}

/// The far side of a joint through which alone the coil is reached.
fn outer_end(net: &Net, coil: usize, end: usize) -> usize {
    let mut others = net.points[end].parts.iter().copied().filter(|part| *part != coil);
    match (others.next(), others.next()) {
        (Some(joint), None) if net.parts[joint].kind == Kind::Connection && net.parts[joint].conditional => {
            net.other_end(joint, end)
        }
        _ => end,
    }
}
