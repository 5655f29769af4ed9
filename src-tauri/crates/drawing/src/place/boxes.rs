//! Boxes: edges, pin numbers, names, what is inside.

use super::numbers::Numbers;
use super::run::sign;
use super::scene::{Owner, Scene, Sort, Waiting, around, round};
use crate::columns::Form;
use crate::graph::net::Kind;
use crate::known::SUSPECT;
use crate::layout::Rect;
use crate::layout::boxes::{frame_lines, inner_share, pads};
use crate::layout::item::{Item, radius};
use crate::picture::{Anchor, Frame, Look, Name, Symbol};
use crate::text::{self, LINE, NAME, PIN};

impl Scene<'_> {
    pub(super) fn boxes(&mut self, numbers: &Numbers<'_>) {
        for (hub, rect) in self.layout.boxes.clone() {
            let Some(place) = self.graph().hubs[hub].frame() else { continue };
            let look = self.frame_look(place);
            let spec = &self.graph().frames.all[place];
            let (relay, id, parts) = (spec.is_relay(), spec.id.clone(), self.part_ids(&spec.parts));
            self.picture.boxes.push(Frame {
                x: round(rect.x),
                y: round(rect.y),
                width: round(rect.width),
                height: round(rect.height),
                relay,
                look,
                id,
                parts,
            });
            self.take(rect, Sort::Frame, Owner::Hub(hub));
            self.numbers(hub, rect, numbers);
            if relay {
                self.relay(hub, place, rect, look);
            } else {
                self.module(hub, place, rect, look);
            }
        }
    }

    /// Lit or dimmed if all that can fail inside is.
    fn frame_look(&self, frame: usize) -> Look {
        let parts = self.graph().frames.all[frame].parts.iter();
        let can_fail = |part: &&usize| self.graph().net.parts[**part].odds > 0.0;
        let looks: Vec<Look> = parts.filter(can_fail).map(|part| self.known().look[*part]).collect();
        match looks.first() {
            Some(_) if looks.iter().all(|look| *look == Look::Proven) => Look::Proven,
            Some(_) if looks.iter().all(|look| *look != Look::Plain) => Look::RuledOut,
            _ => Look::Plain,
        }
    }

    pub(super) fn pin_number(&mut self, number: String, at: (f64, f64), anchor: Anchor, hub: usize) {
        let width = text::width(&number, PIN);
        let left = match anchor {
            Anchor::Start => at.0,
            Anchor::Middle => at.0 - width / 2.0,
            Anchor::End => at.0 - width,
        };
        self.take(Rect { x: left, y: at.1 - 11.0, width, height: 12.0 }, Sort::Text, Owner::Hub(hub));
        self.picture.names.push(Name {
            lines: vec![number],
            x: round(at.0),
            y: round(at.1),
            anchor,
            size: PIN,
            pin: true,
            look: Look::Plain,
            parts: Vec::new(),
        });
    }

    fn numbers(&mut self, hub: usize, rect: Rect, numbers: &Numbers<'_>) {
        let relay = self.graph().is_relay(hub);
        let graph = self.graph();
        for strand in self.sheet.columns.all(Form::Down).filter(|strand| graph.strands[*strand].meets(hub)) {
            let spec = &graph.strands[strand];
            let Some(x) = self.x(strand) else { continue };
            let (pin, point) = spec.at(hub);
            let above = spec.to == hub;
            let edge = if above { rect.y } else { rect.bottom() };
            let free = graph.net.points[point].reachable
                && graph.bar(point).is_none()
                && !self.known().leads.contains_key(&point);
            if free && !self.layout.stubs.contains(&strand) {
                self.put(point, x, edge);
            }
            let Some(number) = numbers.of_pin(hub, pin, point) else { continue };
            let beside = if relay { self.beside(hub, x) } else { 0.0 };
            let y = if above { rect.y + 18.0 } else { rect.bottom() - 8.0 };
            self.pin_number(number, (x + beside, y), Anchor::Middle, hub);
        }
    }

    /// Where a relay's terminal number stands beside its wire: between the two, or outside where they are close.
    pub(super) fn beside(&self, hub: usize, x: f64) -> f64 {
        let at = |contacts: bool| {
            self.layout.columns.get(self.sheet.columns.half(hub, contacts)).copied().unwrap_or(x)
        };
        let (low, high) = (at(false).min(at(true)), at(false).max(at(true)));
        let inward = if x < (low + high) / 2.0 { 16.0 } else { -16.0 };
        if high - low < 64.0 { -inward } else { inward }
    }

    fn relay(&mut self, hub: usize, frame: usize, rect: Rect, look: Look) {
        let spec = &self.graph().frames.all[frame];
        let (Some(coil), contacts) = (spec.coil, spec.contacts.clone()) else { return };
        let column = |contacts: bool| {
            let column = self.sheet.columns.half(hub, contacts);
            self.layout.columns.get(column).copied().unwrap_or(rect.x + rect.width / 2.0)
        };
        let (coil_x, contact_x, y) = (column(false), column(true), rect.y + rect.height / 2.0);
        let right = contact_x > coil_x;
        let toward = if right { 1.0 } else { -1.0 };
        let look_of = |part: usize| self.known().look[part];
        let contact = contacts.first().copied().unwrap_or(coil);
        let (coil_look, contact_look) = (look_of(coil), look_of(contact));
        self.link(&[(coil_x, rect.y), (coil_x, y - 17.0)], false, coil_look);
        self.link(&[(coil_x, y + 17.0), (coil_x, rect.bottom())], false, coil_look);
        self.link(&[(contact_x, rect.y), (contact_x, y - 16.0)], false, contact_look);
        self.link(&[(contact_x, y + 16.0), (contact_x, rect.bottom())], false, contact_look);
        self.link(&[(coil_x + toward * 13.0, y), (contact_x - toward * 7.0, y)], true, look);
        for (part, x, width, height) in [(coil, coil_x, 26.0, 34.0), (contact, contact_x, 16.0, 32.0)] {
            let kind = self.graph().net.parts[part].kind;
            let spare = |other: &usize| {
                *other != part
                    && self.known().present[*other]
                    && self.graph().net.parts[*other].same_ends(&self.graph().net.parts[part])
            };
            let present = self.known().present[part];
            let fitted =
                self.graph().frames.all[frame].parts.iter().copied().find(spare).filter(|_| !present);
            self.take(around(x, y, width, height), Sort::Symbol, Owner::Part(part));
            self.picture.symbols.push(Symbol {
                sign: sign(kind),
                x: round(x),
                y: round(y),
                turned: false,
                mirrored: kind == Kind::Contact && right,
                closed: self.known().closed[part],
                look: self.known().look[part],
                absent: !present && fitted.is_none(),
                replaced_by: fitted.map(|part| self.graph().net.parts[part].id.clone()),
                part: self.graph().net.parts[part].id.clone(),
            });
        }
        let known = self.known();
        let contact_share: f64 = contacts.iter().map(|part| known.share[*part]).sum();
        if known.share[coil] > SUSPECT {
            self.disc(coil_x, y, known.share[coil], &[coil], Owner::Part(coil));
        }
        if contact_share > SUSPECT {
            self.disc(contact_x, y, contact_share, &contacts, Owner::Part(contact));
        }
        let rest = inner_share(self.given, hub);
        let lines = self.speech().frame(frame);
        let width = text::widest(&lines, NAME);
        let height = lines.len() as f64 * LINE;
        let middle = (coil_x + contact_x) / 2.0;
        let mut first = Vec::new();
        if width < (contact_x - coil_x).abs() - 25.0 {
            first.push((middle - width / 2.0, y - height - 1.0));
            first.push((middle - width / 2.0, y + 3.0));
        }
        for y in [rect.y - height - 3.0, rect.bottom() + 4.0] {
            let left = [middle, rect.x + width / 2.0 + 6.0, rect.right() - width / 2.0 - 6.0];
            first.extend(left.into_iter().map(|x| (x - width / 2.0, y)));
        }
        first.push((rect.x - width - 5.0, y - height / 2.0));
        first.push((rect.right() + 5.0, y - height / 2.0));
        let parts = self.graph().frames.all[frame].parts.clone();
        let disc = (rest > SUSPECT).then(|| self.inner_item(hub, rest));
        let owner = Owner::Hub(hub);
        self.waiting.push(Waiting {
            lines,
            look,
            parts,
            owner,
            x: middle,
            y,
            half: (rect.width / 2.0, rect.height / 2.0),
            disc,
            first,
            only: true,
            early: false,
        });
    }

    fn inner_item(&self, hub: usize, share: f64) -> Item {
        let frame = self.graph().hubs[hub].frame().unwrap_or(usize::MAX);
        let parts = self.graph().frames.all[frame].parts.iter().copied();
        let suspects = parts.filter(|part| self.known().share[*part] > 0.0).collect();
        Item { share, suspects, ..Item::default() }
    }

    fn module(&mut self, hub: usize, frame: usize, rect: Rect, look: Look) {
        let share = inner_share(self.given, hub);
        // Numbers beside the edges keep their room.
        let (left, right) = pads(self.sheet, hub);
        let lines = frame_lines(self.given, hub, rect.width - left - right - 10.0);
        let inner = Rect { x: rect.x + left, width: rect.width - left - right, ..rect };
        let (width, height) = (text::widest(&lines, NAME), lines.len() as f64 * LINE);
        let (x, y) = inner.middle();
        let parts = self.graph().frames.all[frame].parts.clone();
        if share > SUSPECT {
            let item = self.inner_item(hub, share);
            let radius = radius(share);
            if width + 2.0 * radius + 8.0 <= inner.width {
                let whole = width + 2.0 * radius + 8.0;
                self.text_at(&lines, x - whole / 2.0, y - height / 2.0, look, &parts, hub);
                self.disc(x + whole / 2.0 - radius, y, share, &item.suspects, Owner::Nobody);
            } else {
                let whole = height + 2.0 * radius + 2.0;
                self.text_at(&lines, x - width / 2.0, y - whole / 2.0, look, &parts, hub);
                self.disc(x, y + whole / 2.0 - radius, share, &item.suspects, Owner::Nobody);
            }
        } else {
            self.text_at(&lines, x - width / 2.0, y - height / 2.0, look, &parts, hub);
        }
    }

    /// Lines with their left upper corner here, centered on each other.
    pub(super) fn text_at(
        &mut self,
        lines: &[String],
        x: f64,
        y: f64,
        look: Look,
        parts: &[usize],
        hub: usize,
    ) {
        let width = text::widest(lines, NAME);
        for (place, line) in lines.iter().enumerate() {
            let own = text::width(line, NAME);
            let rect = Rect {
                x: x + (width - own) / 2.0,
                y: y + place as f64 * LINE + 1.5,
                width: own,
                height: LINE - 4.0,
            };
            self.take(rect, Sort::Text, Owner::Hub(hub));
        }
        let parts = self.part_ids(parts);
        self.picture.names.push(Name {
            lines: lines.to_vec(),
            x: round(x + width / 2.0),
            y: round(y + 13.0),
            anchor: Anchor::Middle,
            size: NAME,
            pin: false,
            look,
            parts,
        });
    }
}
