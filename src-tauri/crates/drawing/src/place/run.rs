//! Things along a path: each at its home, giving way only on touch (pool adjacent violators).

use super::scene::{Lifted, Owner, Scene, Sort, around, round};
use crate::graph::net::Kind;
use crate::known::Read;
use crate::layout::Rect;
use crate::layout::item::{Item, What, length, size};
use crate::picture::{Capsule, Look, Sign, Symbol};
use crate::text;

use super::scene::Waiting;

/// A path with its lengths.
struct Path<'p> {
    corners: &'p [(f64, f64)],
    lengths: Vec<f64>,
    whole: f64,
}

impl<'p> Path<'p> {
    fn of(corners: &'p [(f64, f64)]) -> Self {
        let mut lengths = vec![0.0];
        let mut whole = 0.0;
        for ((x, y), (to_x, to_y)) in corners.iter().zip(corners.iter().skip(1)) {
            whole += (to_x - x).hypot(to_y - y);
            lengths.push(whole);
        }
        Self { corners, lengths, whole }
    }

    /// Place at a length from the start, and whether the path runs sideways there.
    fn at(&self, length: f64) -> (f64, f64, bool) {
        let length = length.clamp(0.0, self.whole);
        let pieces = self
            .corners
            .iter()
            .zip(self.corners.iter().skip(1))
            .zip(self.lengths.iter().zip(self.lengths.iter().skip(1)));
        for (((x, y), (to_x, to_y)), (from, to)) in pieces {
            if length <= *to + 1e-9 && to > from {
                let share = (length - from) / (to - from);
                let sideways = (to_x - x).abs() > (to_y - y).abs();
                return (x + (to_x - x) * share, y + (to_y - y) * share, sideways);
            }
        }
        self.corners.last().map_or((0.0, 0.0, false), |(x, y)| (*x, *y, false))
    }

    fn piece(&self, from: f64, to: f64) -> Vec<(f64, f64)> {
        let end = |length: f64| {
            let (x, y, _) = self.at(length);
            (x, y)
        };
        let mut piece = vec![end(from)];
        for (corner, length) in self.corners.iter().zip(&self.lengths) {
            if *length > from + 0.5 && *length < to - 0.5 {
                piece.push(*corner);
            }
        }
        piece.push(end(to));
        piece
    }
}

/// Middles of things of these sizes, as near to their homes as they can be without touching.
pub(super) fn spread(homes: &[f64], sizes: &[f64], whole: f64) -> Vec<f64> {
    let need: f64 = sizes.iter().sum();
    let scale = if need > whole && need > 0.0 { whole / need } else { 1.0 };
    let sizes: Vec<f64> = sizes.iter().map(|size| size * scale).collect();
    let mut offsets = Vec::new();
    let mut offset = 0.0;
    for (place, size) in sizes.iter().enumerate() {
        if let Some(before) = place.checked_sub(1).and_then(|before| sizes.get(before)) {
            offset += (before + size) / 2.0;
        }
        offsets.push(offset);
    }
    let (Some(first), Some(last)) = (sizes.first(), sizes.last()) else { return Vec::new() };
    let (low, high) = (first / 2.0, whole - last / 2.0 - offset);
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for (home, offset) in homes.iter().zip(&offsets) {
        let mut block = (home - offset, 1);
        while let Some(before) = blocks.last().copied().filter(|before| before.0 > block.0) {
            let many = before.1 + block.1;
            block = ((before.0 * before.1 as f64 + block.0 * block.1 as f64) / many as f64, many);
            blocks.pop();
        }
        blocks.push(block);
    }
    let values = blocks.iter().flat_map(|(value, many)| std::iter::repeat_n(*value, *many));
    values.zip(&offsets).map(|(value, offset)| value.clamp(low, high.max(low)) + offset).collect()
}

impl Scene<'_> {
    /// Draws a run along a path: wires between its things, and the things.
    pub fn run(&mut self, corners: &[(f64, f64)], items: &[Item], sideways: bool) {
        let path = Path::of(corners);
        let body: Vec<&Item> = items.iter().filter(|item| item.shown()).collect();
        let plain: f64 = body.iter().map(|item| self.length(item, sideways, false)).sum();
        let lifted = sideways && plain > path.whole;
        let sizes: Vec<f64> = body.iter().map(|item| self.length(item, sideways, lifted)).collect();
        let homes: Vec<f64> = body.iter().map(|item| item.at * path.whole).collect();
        let mut middles = spread(&homes, &sizes, path.whole).into_iter();
        let fallback =
            items.iter().map(|item| item.look).find(|look| *look != Look::Plain).unwrap_or_default();
        let color = items
            .iter()
            .find_map(|item| item.slots.iter().find_map(|slot| self.color(*slot)))
            .unwrap_or_default();
        let mut pen = Pen { from: 0.0, look: fallback, color, wires: Vec::new() };
        let starts = items.iter().find(|item| item.what == What::Wire || item.is_symbol());
        pen.look = starts.map_or(Look::Plain, |item| item.look);
        for item in items {
            if !item.shown() {
                pen.wires.push(item.clone());
                continue;
            }
            let Some(middle) = middles.next() else { continue };
            self.piece(&path, &mut pen, middle);
            let (x, y, turned) = path.at(middle);
            self.thing(item, (x, y), turned, lifted);
            // Beyond a mark a wire goes on as it was.
        }
        self.piece(&path, &mut pen, path.whole);
    }

    fn piece(&mut self, path: &Path<'_>, pen: &mut Pen, to: f64) {
        let wires = std::mem::take(&mut pen.wires);
        if !wires.is_empty() {
            let proven = wires.iter().all(|wire| wire.look == Look::Proven || wire.idle)
                && wires.iter().any(|wire| wire.look == Look::Proven);
            let out = wires.iter().all(|wire| wire.look == Look::RuledOut || wire.idle)
                && wires.iter().any(|wire| wire.look == Look::RuledOut);
            pen.look = if proven {
                Look::Proven
            } else if out {
                Look::RuledOut
            } else {
                Look::Plain
            };
            let slots: Vec<usize> = wires.iter().flat_map(|wire| wire.slots.iter().copied()).collect();
            if let Some(color) = slots.iter().find_map(|slot| self.color(*slot)) {
                pen.color = color;
            }
            if to - pen.from > 0.5 {
                self.wire(&path.piece(pen.from, to), pen.look, pen.color.clone(), &slots);
            }
        } else if to - pen.from > 0.5 {
            self.wire(&path.piece(pen.from, to), pen.look, pen.color.clone(), &[]);
        }
        pen.from = to;
    }

    /// Room of a thing along its path; a lifted reading stands above it.
    fn length(&self, item: &Item, sideways: bool, lifted: bool) -> f64 {
        match item.what {
            What::Mark(point) if sideways && lifted && self.known().read.contains_key(&point) => {
                if self.known().leads.contains_key(&point) { 30.0 } else { 18.0 }
            }
            What::Span(_) if sideways && lifted => 18.0,
            _ => length(self.given, item, sideways),
        }
    }

    fn thing(&mut self, item: &Item, (x, y): (f64, f64), turned: bool, lifted: bool) {
        match item.what {
            What::Wire => {}
            What::Disc => self.disc(x, y, item.share, &item.suspects, Owner::Nobody),
            What::Symbol => self.symbol(item, (x, y), turned),
            What::Capsule => self.capsule(item, (x, y)),
            What::Ring(point) => self.ring(x, y, point),
            What::Span(number) => self.span(number, (x, y), lifted && turned),
            What::Mark(point) => {
                let known = self.known();
                let lead = known.leads.contains_key(&point);
                match known.read.get(&point) {
                    Some(_) if lifted && turned => {
                        let ring = !lead;
                        if ring {
                            self.picture.rings.push(crate::picture::Ring {
                                x: round(x),
                                y: round(y),
                                point: self.point_id(point),
                            });
                        }
                        self.put(point, x, y);
                        if let Some(lead) = known.leads.get(&point) {
                            self.eye(x, y, *lead, point);
                        }
                        if let Some(read) = known.read.get(&point) {
                            self.lifted.push(Lifted { x, y, read: read.clone(), points: vec![point] });
                        }
                    }
                    Some(read) if lead && turned => {
                        let width = self.bead_width(read);
                        self.mark(point, (x + width / 2.0 + 1.0, y), (x - 14.0, y), false);
                    }
                    Some(read) if !lead && self.is_blocked((x, y), read) => {
                        self.ring(x, y, point);
                        self.lifted.push(Lifted { x, y, read: read.clone(), points: vec![point] });
                    }
                    Some(_) if lead => self.mark(point, (x, y - 14.5), (x, y - 14.5), false),
                    _ => self.mark(point, (x, y), (x, y), true),
                }
            }
        }
    }

    fn span(&mut self, number: usize, (x, y): (f64, f64), lifted: bool) {
        let Some(span) = self.known().spans.get(number) else { return };
        if lifted || self.is_blocked((x, y), &span.read) {
            self.lifted.push(Lifted { x, y, read: span.read.clone(), points: vec![span.red, span.black] });
            return;
        }
        self.bead(x, y, &span.read, &[span.red, span.black], None);
    }

    /// Would a reading here lie on a box or on another reading?
    fn is_blocked(&self, (x, y): (f64, f64), read: &Read) -> bool {
        let rect = around(x, y, self.bead_width(read), 28.0);
        let on = |other: &Rect| {
            let (width, height) = rect.shared(*other);
            width > 2.0 && height > 2.0
        };
        let beads =
            self.taken.iter().filter(|taken| matches!(taken.sort, Sort::Bead | Sort::Eye | Sort::Disc));
        self.layout.boxes.values().any(on) || beads.map(|taken| &taken.rect).any(on)
    }

    fn capsule(&mut self, item: &Item, (x, y): (f64, f64)) {
        let parts = self.in_slots(&item.slots);
        let text = self.speech().good(item.slots.len());
        let width = text::width(&text, 16.0) + 30.0;
        self.take(around(x, y, width, 30.0), Sort::Capsule, Owner::Nobody);
        let parts = self.part_ids(&parts);
        self.picture.capsules.push(Capsule {
            x: round(x),
            y: round(y),
            width: round(width),
            height: 30.0,
            text,
            parts,
        });
    }

    fn symbol(&mut self, item: &Item, (x, y): (f64, f64), turned: bool) {
        let slot = item.slots.first().copied().unwrap_or(usize::MAX);
        let parts = self.graph().slots[slot].parts.clone();
        let usual = self.graph().slots[slot].usual();
        let kind = self.graph().net.parts[usual].kind;
        let (width, height) = if turned { (size(kind).1, size(kind).0) } else { size(kind) };
        self.take(around(x, y, width, height), Sort::Symbol, Owner::Part(usual));
        let known = self.known();
        let fitted = parts.iter().copied().find(|part| known.present[*part]);
        self.picture.symbols.push(Symbol {
            sign: sign(kind),
            x: round(x),
            y: round(y),
            turned,
            mirrored: false,
            closed: known.closed[usual],
            look: item.look,
            absent: fitted.is_none(),
            replaced_by: fitted
                .filter(|part| *part != usual)
                .map(|part| self.graph().net.parts[part].id.clone()),
            part: self.graph().net.parts[usual].id.clone(),
        });
        self.waiting.push(Waiting {
            lines: item.label.clone(),
            look: item.look,
            parts,
            owner: Owner::Part(usual),
            x,
            y,
            half: (width / 2.0, height / 2.0),
            disc: item.suspect().then(|| item.clone()),
            first: Vec::new(),
            only: false,
            early: false,
        });
    }
}

struct Pen {
    from: f64,
    look: Look,
    color: Vec<String>,
    wires: Vec<Item>,
}

pub(super) const fn sign(kind: Kind) -> Sign {
    match kind {
        Kind::Fuse => Sign::Fuse,
        Kind::Switch => Sign::Switch,
        Kind::Contact => Sign::Contact,
        Kind::Lamp => Sign::Lamp,
        Kind::Motor => Sign::Motor,
        Kind::Diode => Sign::Diode,
        Kind::Coil => Sign::Coil,
        Kind::Thermistor => Sign::Thermistor,
        Kind::PickUp => Sign::PickUp,
        _ => Sign::Resistor,
    }
}

/// Nothing lies outside of this.
pub(super) fn sheet(width: f64, height: f64) -> Rect {
    Rect { x: 0.0, y: 0.0, width, height }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn things_stay_at_home_until_they_touch() {
        assert_eq!(spread(&[20.0, 60.0], &[10.0, 10.0], 100.0), [20.0, 60.0]);
        assert_eq!(spread(&[50.0, 52.0], &[20.0, 20.0], 100.0), [41.0, 61.0]);
        assert_eq!(spread(&[0.0, 0.0], &[10.0, 10.0], 100.0), [5.0, 15.0]);
        // Too much for the path: all shrink alike.
        assert_eq!(spread(&[0.0, 50.0], &[100.0, 100.0], 100.0), [25.0, 75.0]);
        assert!(spread(&[], &[], 10.0).is_empty());
    }
}
