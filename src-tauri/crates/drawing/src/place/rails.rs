//! The two rails: a bar, or a row with what lies on it and the bar beside it.

use super::scene::{Owner, Scene, round};
use crate::graph::Rail;
use crate::known::SUSPECT;
use crate::layout::item::{Item, What, radius};
use crate::picture::{Bar, Look};

/// Left end of a row on a rail.
const LEFT: f64 = 16.0;

impl Scene<'_> {
    pub(super) fn rails(&mut self) {
        let (top, bottom) = (self.graph().top.clone(), self.graph().bottom.clone());
        self.rail(&top, true);
        self.rail(&bottom, false);
    }

    fn bus_y(&self, upper: bool) -> f64 {
        let hub = if upper { self.graph().top_hub } else { self.graph().bottom_hub };
        self.layout.y.get(&hub).copied().unwrap_or(0.0)
    }

    /// Middle of the row beside a rail's bar.
    fn row_y(&self, upper: bool, middle: f64) -> f64 {
        if upper { middle } else { self.bus_y(false) + middle - 8.0 }
    }

    fn rail(&mut self, rail: &Rail, upper: bool) {
        let y = self.bus_y(upper);
        let right = self.layout.width - 20.0;
        let row = if upper { self.layout.top_row.clone() } else { self.layout.bottom_row.clone() };
        let disc = if upper { self.layout.top_disc.clone() } else { self.layout.bottom_disc.clone() };
        let battery = self.graph().net.battery;
        let own = if upper { self.known().share[battery] } else { 0.0 };
        let net = &self.graph().net;
        let points =
            |points: &[usize]| points.iter().map(|point| net.points[*point].id.clone()).collect::<Vec<_>>();
        if let Some((mut items, middle)) = row {
            let row_y = self.row_y(upper, middle);
            if own > SUSPECT {
                let suspects = vec![battery];
                let room = 2.0 * radius(own) + 8.0;
                items.insert(0, Item { what: What::Disc, share: own, suspects, room, ..Item::default() });
            }
            if self.known().read.contains_key(&rail.start) || self.known().leads.contains_key(&rail.start) {
                items.insert(0, Item { what: What::Mark(rail.start), room: 30.0, ..Item::default() });
            }
            let look = self.bar_look(rail);
            let bus = points(&[rail.bus()]);
            self.bar((28.0, y), (right, y), look, bus);
            let bus = points(&[rail.bus()]);
            self.bar((right, row_y.min(y)), (right, row_y.max(y)), look, bus);
            self.run(&[(LEFT, row_y), (right, row_y)], &items, true);
            if rail.bus() != rail.start {
                self.on_bar(rail.bus(), y);
            }
            return;
        }
        let columns = &self.layout.columns;
        let first = columns.iter().copied().fold(60.0, f64::min) - 12.0;
        let last = columns.iter().copied().fold(210.0, f64::max) + 12.0;
        let mut start = if disc.is_some() { 18.0 } else { first };
        let mut end = last;
        let mut found = Vec::new();
        if let Some(item) = disc {
            found.push((18.0_f64.max(radius(item.share) + 2.0), item));
        }
        if own > SUSPECT {
            let x = self.layout.width - radius(own) - 3.0;
            found.push((x, Item { share: own, suspects: vec![battery], ..Item::default() }));
            end = end.max(x);
        }
        start = start.max(4.0);
        let all = points(&rail.points);
        let look = self.bar_look(rail);
        self.bar((start, y), (end, y), look, all);
        for (x, item) in found {
            self.disc(x, y, item.share, &item.suspects, Owner::Nobody);
        }
        let mut shown: Vec<usize> = rail.points.clone();
        shown.sort_by_key(|point| (*point != rail.bus(), *point != rail.start));
        shown.dedup();
        for point in shown {
            if self.known().read.contains_key(&point) || self.known().leads.contains_key(&point) {
                self.on_bar(point, y);
            }
        }
        if !self.placed.contains_key(&rail.start) {
            let x = self.free_on(y, 20.0);
            self.put(rail.start, x, y);
        }
        if !self.placed.contains_key(&rail.bus()) {
            let x = self.free_on(y, 20.0);
            self.put(rail.bus(), x, y);
        }
    }

    /// Lit if all that lies on it is.
    fn bar_look(&self, rail: &Rail) -> Look {
        let lit = |slot: &usize| self.known().look[self.graph().slots[*slot].usual()] == Look::Proven;
        let battery = self.known().look[self.graph().net.battery] == Look::Proven;
        let good = rail.slots.iter().all(lit) && (battery || !rail.slots.is_empty());
        if good { Look::Proven } else { Look::Plain }
    }

    fn bar(&mut self, from: (f64, f64), to: (f64, f64), look: Look, points: Vec<String>) {
        self.picture.bars.push(Bar {
            x: round(from.0),
            y: round(from.1),
            to_x: round(to.0),
            to_y: round(to.1),
            look,
            points,
        });
        self.stroke(&[from, to]);
    }

    fn on_bar(&mut self, point: usize, y: f64) {
        let known = self.known();
        let (read, lead) = (known.read.get(&point), known.leads.contains_key(&point));
        let bead = read.map_or(0.0, |read| self.bead_width(read));
        let width = bead + if lead { 30.0 } else { 4.0 };
        if read.is_none() && !lead {
            return;
        }
        let x = self.free_on(y, width);
        if lead && read.is_some() {
            self.mark(point, (x + width / 2.0 - 13.0, y), (x - width / 2.0 + bead / 2.0, y), true);
        } else {
            self.mark(point, (x, y), (x, y), true);
        }
    }

    /// The middle of the freest stretch of a bar.
    pub(super) fn free_on(&self, y: f64, width: f64) -> f64 {
        let (low, high) = (18.0 + width / 2.0, self.layout.width - 22.0 - width / 2.0);
        let mut best = ((low + high) / 2.0, f64::NEG_INFINITY);
        let mut x = low;
        while x <= high {
            let columns =
                self.layout.columns.iter().map(|column| ((column - x).abs() - width / 2.0 + 20.0).min(60.0));
            let near = self
                .taken
                .iter()
                .filter(|taken| (taken.rect.middle().1 - y).abs() < taken.rect.height / 2.0 + 16.0);
            let things = near.map(|taken| {
                let gap = (taken.rect.middle().0 - x).abs() - taken.rect.width / 2.0 - width / 2.0;
                gap * if gap < 0.0 { 4.0 } else { 1.0 } + 12.0
            });
            let edge = (x - low).min(high - x) + 30.0;
            let score = columns.chain(things).chain([edge.min(60.0)]).fold(f64::INFINITY, f64::min);
            if score > best.1 + 1e-9 {
                best = (x, score);
            }
            x += 3.0;
        }
        best.0
    }

    /// Names of the rails, last: they may stand anywhere along them.
    pub(super) fn rail_names(&mut self) {
        for upper in [true, false] {
            let row = if upper { &self.layout.top_row } else { &self.layout.bottom_row };
            let y = row.as_ref().map_or_else(|| self.bus_y(upper), |(_, middle)| self.row_y(upper, *middle));
            let name = if upper { self.speech().plus() } else { self.speech().minus() };
            let heights: [f64; 4] =
                if upper { [-26.0, -34.0, 9.0, -46.0] } else { [10.0, 16.0, -26.0, 26.0] };
            self.along_bar(name, y, heights);
        }
    }
}
