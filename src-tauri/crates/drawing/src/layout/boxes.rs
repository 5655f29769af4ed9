//! Boxes: how large they are and what takes room inside.

use std::collections::BTreeMap;

use super::Rect;
use super::across::{self, ports};
use super::item::{Given, radius, suspect_radius};
use super::pack::Pack;
use crate::columns::Form;
use crate::graph::frame::FrameKind;
use crate::sheet::Sheet;
use crate::text;

/// Height of a relay's box.
const RELAY: f64 = 92.0;
/// Width of a box that hangs on another.
const HANGING: f64 = 92.0;

impl Pack<'_> {
    pub(super) fn boxes(&mut self) {
        let columns = across::columns(self.sheet, self.out.width);
        let mut tallest: BTreeMap<usize, f64> = BTreeMap::new();
        for hub in self.sheet.standing.iter().copied() {
            let lines = self.given.speech.frame(self.given.graph.hubs[hub].frame().unwrap_or(usize::MAX));
            let (left, right) = pads(self.sheet, hub);
            let name = if self.given.graph.is_relay(hub) {
                0.0
            } else {
                text::widest(&lines, text::NAME) + left + right
            };
            let mut rect = across::box_of(self.sheet, hub, &columns, (self.out.width, name));
            self.round_discs(hub, &columns, &mut rect);
            rect.height = self.box_height(hub, rect.width);
            let row = self.sheet.columns.row.get(&hub).copied().unwrap_or(0);
            let most = tallest.entry(row).or_insert(0.0);
            *most = most.max(rect.height);
            self.out.boxes.insert(hub, rect);
        }
        for (hub, rect) in &mut self.out.boxes {
            let row = self.sheet.columns.row.get(hub).copied().unwrap_or(0);
            rect.height = tallest.get(&row).copied().unwrap_or(rect.height);
        }
        self.out.columns = columns;
    }

    /// A relay's box holds the discs on its coil and its contact.
    pub(super) fn round_discs(&self, hub: usize, columns: &[f64], rect: &mut Rect) {
        if !self.given.graph.is_relay(hub) {
            return;
        }
        let (mut left, mut right) = (rect.x, rect.right());
        for (share, contacts) in relay_shares(self.given, hub).into_iter().zip([false, true]) {
            let radius = suspect_radius(share);
            let x = columns.get(self.sheet.columns.half(hub, contacts)).copied().unwrap_or(left + radius);
            if radius > 0.0 {
                (left, right) = (left.min(x - radius - 2.0), right.max(x + radius + 2.0));
            }
        }
        (rect.x, rect.width) = (left.max(1.0), right.min(self.out.width - 1.0) - left.max(1.0));
    }

    pub(super) fn box_height(&self, hub: usize, width: f64) -> f64 {
        let graph = self.given.graph;
        let Some(frame) = graph.hubs[hub].frame() else { return 0.0 };
        let frame = &graph.frames.all[frame];
        let share = inner_share(self.given, hub);
        let (ports, rows) = ports(self.sheet, hub);
        let pitch = ports.iter().map(|port| self.pitch(port.strand)).fold(0.0, f64::max);
        let gutter = self.sheet.columns.all(Form::Gutter).chain(self.sheet.columns.all(Form::Across)).filter(
            |strand| {
                let strand = &graph.strands[*strand];
                strand.meets(hub)
                    && strand.from != strand.to
                    && !(graph.is_relay(strand.from) && graph.is_relay(strand.to))
            },
        );
        let beside = gutter
            .filter(|strand| !ports.iter().any(|port| port.strand == *strand))
            .map(|strand| {
                let across = self.sheet.columns.is(strand, Form::Across) && self.length(strand) > 90.0;
                self.length(strand) + if across { 32.0 } else { 0.0 }
            })
            .fold(0.0, f64::max)
            .min(250.0);
        let own = match frame.kind {
            FrameKind::Relay => {
                let halves = relay_shares(self.given, hub);
                halves.into_iter().map(|share| 2.0 * suspect_radius(share) + 50.0).fold(RELAY, f64::max)
            }
            _ => {
                let lines = frame_lines(
                    self.given,
                    hub,
                    width - 10.0 - pads(self.sheet, hub).0 - pads(self.sheet, hub).1,
                );
                let (wide, tall) = (text::widest(&lines, 15.5), lines.len() as f64 * 17.0);
                let disc = 2.0 * suspect_radius(share);
                let inner = if disc <= 0.0 {
                    tall
                } else if wide + disc + 10.0 <= width - pads(self.sheet, hub).0 - pads(self.sheet, hub).1 {
                    tall.max(disc)
                } else {
                    tall + disc + 2.0
                };
                let pins = |above: bool| {
                    let ends = self.sheet.columns.all(Form::Down).any(|strand| {
                        let strand = &graph.strands[strand];
                        if above { strand.to == hub } else { strand.from == hub }
                    });
                    if ends { 21.0 } else { 7.0 }
                };
                (inner + pins(true) + pins(false)).max(52.0)
            }
        };
        own.max(rows as f64 * pitch + 14.0).max(beside)
    }

    /// Room between two rows on a box's right side.
    pub(super) fn pitch(&self, strand: usize) -> f64 {
        let run = self.out.items.get(&strand).map(Vec::as_slice).unwrap_or_default();
        let round = self.sheet.columns.is(strand, Form::Loop);
        let least = if round { 54.0 } else { 48.0 };
        let disc = run
            .iter()
            .filter(|item| item.suspect() && (round || !item.is_symbol()))
            .map(|item| 2.0 * radius(item.share) + if round && item.is_symbol() { 30.0 } else { 6.0 });
        disc.fold(least, f64::max)
    }

    pub(super) fn hanging(&mut self) {
        for (hub, on) in &self.sheet.columns.hangs_on {
            let Some(rect) = self.out.boxes.get(on).copied() else { continue };
            let (ports, rows) = ports(self.sheet, *on);
            let own = ports.iter().filter(|port| self.given.graph.strands[port.strand].meets(*hub));
            let own: Vec<usize> = own.map(|port| port.row).collect();
            let pitch = rect.height / rows.max(1) as f64;
            let first = own.iter().min().copied().unwrap_or(0) as f64;
            let last = own.iter().max().copied().unwrap_or(0) as f64 + 1.0;
            let hanging = Rect {
                x: self.out.width - 6.0 - HANGING,
                y: rect.y + first * pitch + 2.0,
                width: HANGING,
                height: (last - first) * pitch - 4.0,
            };
            self.out.boxes.insert(*hub, hanging);
        }
    }
}

/// Room inside a box that pin numbers take on its left and right side.
pub(crate) fn pads(sheet: &Sheet, hub: usize) -> (f64, f64) {
    let (mut left, mut right) = (6.0, 6.0);
    if sheet.columns.hangs_on.contains_key(&hub) {
        left = 20.0;
    }
    if ports(sheet, hub).1 > 0 {
        right = 20.0;
    }
    let graph = &sheet.graph;
    for strand in sheet.columns.all(Form::Across).chain(sheet.columns.all(Form::Gutter)) {
        let strand = &graph.strands[strand];
        let other = strand.beyond(hub);
        if !strand.meets(hub) || other == hub {
            continue;
        }
        match (sheet.columns.span(graph, hub), sheet.columns.span(graph, other)) {
            (Some(own), Some(other)) if other.0 < own.0 => left = 20.0,
            (Some(_), Some(_)) => right = 20.0,
            _ => {}
        }
    }
    (left, right)
}

/// Name of a box: on one line where it fits.
pub(crate) fn frame_lines(given: Given<'_>, hub: usize, width: f64) -> Vec<String> {
    let lines = given.speech.frame(given.graph.hubs[hub].frame().unwrap_or(usize::MAX));
    let one = lines.join(" ");
    let share = suspect_radius(inner_share(given, hub)) * 2.0;
    if text::width(&one, text::NAME) + share <= width { vec![one] } else { lines }
}

/// Likelihood of a relay's coil, and of its contacts.
pub(crate) fn relay_shares(given: Given<'_>, hub: usize) -> [f64; 2] {
    let Some(frame) = given.graph.hubs[hub].frame() else { return [0.0; 2] };
    let frame = &given.graph.frames.all[frame];
    let of = |parts: &[usize]| parts.iter().map(|part| given.known.share[*part]).sum();
    [of(frame.coil.as_slice()), of(&frame.contacts)]
}

/// Likelihood of what lies inside a box without symbols of its own.
pub(crate) fn inner_share(given: Given<'_>, hub: usize) -> f64 {
    let Some(frame) = given.graph.hubs[hub].frame() else { return 0.0 };
    let frame = &given.graph.frames.all[frame];
    let drawn =
        |part: &usize| frame.is_relay() && (frame.coil == Some(*part) || frame.contacts.contains(part));
    frame.parts.iter().filter(|part| !drawn(part)).map(|part| given.known.share[*part]).sum()
}
