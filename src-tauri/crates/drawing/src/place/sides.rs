//! Wires between boxes: up or down in the gutter, straight across, round to the same box.

use super::numbers::Numbers;
use super::scene::Scene;
use crate::columns::Form;
use crate::layout::Rect;
use crate::layout::across::ports;
use crate::layout::heights::relay_column;
use crate::layout::item::{Item, What, radius};
use crate::picture::{Anchor, Look};

impl Scene<'_> {
    pub(super) fn sides(&mut self, numbers: &Numbers<'_>) {
        for strand in self.sheet.columns.all(Form::Gutter) {
            let spec = &self.graph().strands[strand];
            if self.graph().is_relay(spec.from) && self.graph().is_relay(spec.to) {
                self.below_relays(strand, numbers);
            } else {
                self.gutter(strand, numbers);
            }
        }
        self.straight(numbers);
        for hub in self.sheet.standing.clone() {
            self.hanging(hub, numbers);
        }
    }

    fn items_of(&self, strand: usize) -> Vec<Item> {
        self.layout.items.get(&strand).cloned().unwrap_or_default()
    }

    fn x_of(&self, column: usize) -> f64 {
        self.layout.columns.get(column).copied().unwrap_or(self.layout.width / 2.0)
    }

    fn number(&mut self, numbers: &Numbers<'_>, strand: usize, hub: usize, at: (f64, f64), anchor: Anchor) {
        let (pin, point) = self.graph().strands[strand].at(hub);
        if let Some(number) = numbers.of_pin(hub, pin, point) {
            self.pin_number(number, at, anchor, hub);
        }
    }

    /// In a U below both relays.
    fn below_relays(&mut self, strand: usize, numbers: &Numbers<'_>) {
        let spec = &self.graph().strands[strand];
        let (Some(from), Some(to)) =
            (self.layout.boxes.get(&spec.from).copied(), self.layout.boxes.get(&spec.to).copied())
        else {
            return;
        };
        let x = |hub: usize| self.x_of(relay_column(self.sheet, hub, spec.at(hub).1));
        let (from_x, to_x) = (x(spec.from), x(spec.to));
        let depth = self.layout.below.get(&strand).copied().unwrap_or(46.0);
        let y = from.bottom() + depth;
        let mut items = self.items_of(strand);
        // What was read at a relay's own terminal stands right below it.
        for (point, at) in [(spec.first(), from_x), (spec.last(), to_x)] {
            let own = |item: &Item| item.what == What::Mark(point);
            if items.iter().any(own) && !self.known().leads.contains_key(&point) {
                items.retain(|item| !own(item));
                self.mark(point, (at, from.bottom() + 20.0), (at, from.bottom() + 20.0), true);
            }
        }
        for item in items.iter_mut().filter(|item| item.is_symbol()) {
            item.room = 40.0;
        }
        self.run(&[(from_x, from.bottom()), (from_x, y), (to_x, y), (to_x, to.bottom())], &items, true);
        for (hub, at, rect) in [(spec.from, from_x, from), (spec.to, to_x, to)] {
            let beside = self.beside(hub, at);
            self.number(numbers, strand, hub, (at + beside, rect.bottom() - 8.0), Anchor::Middle);
        }
    }

    /// From a module to a relay's coil: out of the side, up or down in the gutter, round to the coil.
    fn gutter(&mut self, strand: usize, numbers: &Numbers<'_>) {
        let spec = &self.graph().strands[strand];
        let (relay, module) =
            if self.graph().is_relay(spec.from) { (spec.from, spec.to) } else { (spec.to, spec.from) };
        let (Some(coil), Some(side)) =
            (self.layout.boxes.get(&relay).copied(), self.layout.boxes.get(&module).copied())
        else {
            return;
        };
        let point = spec.at(relay).1;
        let x = self.x_of(relay_column(self.sheet, relay, point));
        let above = self.enters_above(relay, point);
        let right = side.right() < coil.middle().0;
        let edge = if right { side.right() } else { side.x };
        let middle = if right { (side.right() + coil.x) / 2.0 } else { (side.x + coil.right()) / 2.0 };
        let pin_y = if above { side.bottom() - 22.0 } else { side.y + 22.0 };
        let turn_y = if above { coil.y - 24.0 } else { coil.bottom() + 24.0 };
        let entry = if above { coil.y } else { coil.bottom() };
        let mut items = self.items_of(strand);
        if spec.from == relay {
            items.reverse();
            items.iter_mut().for_each(|item| item.at = 1.0 - item.at);
        }
        let colors = self.color_of(&spec.slots);
        // The module's own terminal sits on its edge unless there is a reading to show.
        let first = items.iter().position(Item::shown);
        if let Some(place) = first
            && let Some(What::Mark(point)) = items.get(place).map(|item| item.what)
            && !self.known().read.contains_key(&point)
        {
            items.remove(place);
            self.mark(point, (edge, pin_y), (edge, pin_y), true);
        }
        let look = |items: &[Item], last: bool| {
            let mut looks =
                items.iter().filter(|item| item.what == What::Wire && !item.idle).map(|item| item.look);
            if last { looks.next_back() } else { looks.next() }.unwrap_or(Look::Plain)
        };
        let need: f64 = items.iter().map(|item| item.room).sum();
        let upright = (turn_y - pin_y).abs();
        if need <= upright + 14.0 {
            self.wire(&[(edge, pin_y), (middle, pin_y)], look(&items, false), colors.clone(), &spec.slots);
            self.run(&[(middle, pin_y), (middle, turn_y)], &items, false);
            self.wire(&[(middle, turn_y), (x, turn_y), (x, entry)], look(&items, true), colors, &spec.slots);
        } else {
            self.run(
                &[(edge, pin_y), (middle, pin_y), (middle, turn_y), (x, turn_y), (x, entry)],
                &items,
                false,
            );
        }
        let inside = if right { (edge - 7.0, Anchor::End) } else { (edge + 7.0, Anchor::Start) };
        self.number(numbers, strand, module, (inside.0, pin_y + 5.0), inside.1);
        let beside = self.beside(relay, x);
        let y = if above { coil.y + 18.0 } else { coil.bottom() - 8.0 };
        self.number(numbers, strand, relay, (x + beside, y), Anchor::Middle);
    }

    /// Is this the coil's upper end?
    fn enters_above(&self, relay: usize, point: usize) -> bool {
        let graph = self.graph();
        let frame = graph.hubs[relay].frame().unwrap_or(usize::MAX);
        let frame = &graph.frames.all[frame];
        let ends: Vec<usize> = frame.coil.map(|coil| graph.net.parts[coil].ends.clone()).unwrap_or_default();
        let most = ends.iter().map(|end| graph.net.potential(*end)).fold(0.0, f64::max);
        graph.net.potential(point) >= most - 1e-6
    }

    /// Between two boxes that stand beside each other.
    fn straight(&mut self, numbers: &Numbers<'_>) {
        let hanging = |hub: usize| self.sheet.columns.hangs_on.contains_key(&hub);
        let graph = self.graph();
        let mut between: Vec<((usize, usize), usize)> = Vec::new();
        for strand in self.sheet.columns.all(Form::Across) {
            let spec = &graph.strands[strand];
            if !hanging(spec.from) && !hanging(spec.to) {
                between.push(((spec.from.min(spec.to), spec.from.max(spec.to)), strand));
            }
        }
        for (place, (pair, strand)) in between.iter().enumerate() {
            let many = between.iter().filter(|(other, _)| other == pair).count();
            let row = between.iter().take(place).filter(|(other, _)| other == pair).count();
            let (Some(one), Some(other)) =
                (self.layout.boxes.get(&pair.0).copied(), self.layout.boxes.get(&pair.1).copied())
            else {
                continue;
            };
            let ((left, left_hub), (right, right_hub)) = if one.x < other.x {
                ((one, pair.0), (other, pair.1))
            } else {
                ((other, pair.1), (one, pair.0))
            };
            let share = (row as f64 + 0.5) / many.max(1) as f64;
            let from = (left.right(), left.y + left.height * share);
            let to = (right.x, right.y + right.height * share);
            let mut items = self.items_of(*strand);
            if graph.strands[*strand].from == right_hub {
                items.reverse();
                items.iter_mut().for_each(|item| item.at = 1.0 - item.at);
            }
            let middle = (from.0 + to.0) / 2.0;
            let need: f64 = items.iter().map(|item| item.room).sum();
            let path = if (from.1 - to.1).abs() < 1.0 {
                vec![from, to]
            } else {
                vec![from, (middle, from.1), (middle, to.1), to]
            };
            if need > (to.0 - from.0) && many == 1 && (from.1 - to.1).abs() < 1.0 {
                // Too much for the way across: down along the gutter and back up on the other side of it.
                let (up, down) = (left.y + 16.0, left.bottom() - 16.0);
                let wire = |last: bool| {
                    let mut wires = items.iter().filter(|item| item.what == What::Wire);
                    if last { wires.next_back() } else { wires.next() }
                        .map(|item| item.look)
                        .unwrap_or_default()
                };
                let slots = graph.strands[*strand].slots.clone();
                let color = self.color_of(&slots);
                self.wire(&[(from.0, up), (middle, up)], wire(false), color.clone(), &slots);
                self.wire(&[(middle, down), (to.0, down)], wire(true), color, &slots);
                self.run(&[(middle, up), (middle, down)], &items, false);
                self.number(numbers, *strand, left_hub, (left.right() - 6.0, up + 5.0), Anchor::End);
                self.number(numbers, *strand, right_hub, (right.x + 6.0, down + 5.0), Anchor::Start);
                continue;
            }
            self.run(&path, &items, true);
            self.number(numbers, *strand, left_hub, (left.right() - 6.0, from.1 + 5.0), Anchor::End);
            self.number(numbers, *strand, right_hub, (right.x + 6.0, to.1 + 5.0), Anchor::Start);
        }
    }

    /// What hangs on a box's right side.
    fn hanging(&mut self, hub: usize, numbers: &Numbers<'_>) {
        let (ports, rows) = ports(self.sheet, hub);
        let Some(rect) = self.layout.boxes.get(&hub).copied() else { return };
        let height = |row: usize| rect.y + rect.height * (row as f64 + 0.5) / rows.max(1) as f64;
        for port in ports {
            let spec = &self.graph().strands[port.strand];
            let y = height(port.row);
            let mut items = self.items_of(port.strand);
            if self.sheet.columns.is(port.strand, Form::Loop) {
                let back = height(port.row + 1);
                self.round(rect, (y, back), &items);
                for (pin, point, y) in [(spec.from_pin, spec.first(), y), (spec.to_pin, spec.last(), back)] {
                    if let Some(number) = numbers.of_pin(hub, pin, point) {
                        self.pin_number(number, (rect.right() - 6.0, y + 5.0), Anchor::End, hub);
                    }
                }
                continue;
            }
            let other = spec.beyond(hub);
            let Some(far) = self.layout.boxes.get(&other).copied() else { continue };
            if spec.from == other {
                items.reverse();
                items.iter_mut().for_each(|item| item.at = 1.0 - item.at);
            }
            self.run(&[(rect.right(), y), (far.x, y)], &items, true);
            self.number(numbers, port.strand, hub, (rect.right() - 6.0, y + 5.0), Anchor::End);
            self.number(numbers, port.strand, other, (far.x + 6.0, y + 5.0), Anchor::Start);
        }
    }

    /// A run that comes back to its own box: out above, down on the far side through its first symbol, back below.
    fn round(&mut self, rect: Rect, (y, back): (f64, f64), items: &[Item]) {
        let symbol = items.iter().position(Item::is_symbol).unwrap_or(items.len());
        let disc =
            items.get(symbol).filter(|item| item.suspect()).map_or(0.0, |item| 2.0 * radius(item.share));
        let far = self.layout.width - f64::max(60.0, 26.0 + disc);
        if symbol == items.len() {
            self.run(&[(rect.right(), y), (far, y), (far, back), (rect.right(), back)], items, true);
            return;
        }
        let piece = |from: usize, to: usize| {
            let mut piece: Vec<Item> = items.get(from..to).map(<[Item]>::to_vec).unwrap_or_default();
            let (first, last) =
                (piece.first().map_or(0.0, |item| item.at), piece.last().map_or(1.0, |item| item.at));
            for item in &mut piece {
                item.at = if last > first { (item.at - first) / (last - first) } else { 0.5 };
            }
            piece
        };
        let next = (symbol + 1).min(items.len());
        // Nothing stands in the corners.
        let corner = far - 20.0;
        let (out, home) = (piece(0, symbol), piece(next, items.len()));
        for (run, y) in [(&out, y), (&home, back)] {
            let wire = run.iter().find(|item| item.what == What::Wire);
            let slots = wire.map(|wire| wire.slots.clone()).unwrap_or_default();
            let (look, color) = (wire.map(|wire| wire.look).unwrap_or_default(), self.color_of(&slots));
            self.wire(&[(corner, y), (far, y)], look, color, &slots);
        }
        self.run(&[(rect.right(), y), (corner, y)], &out, true);
        self.run(&[(far, y), (far, back)], &piece(symbol.min(items.len()), next), false);
        self.run(&[(corner, back), (rect.right(), back)], &home, true);
    }
}
