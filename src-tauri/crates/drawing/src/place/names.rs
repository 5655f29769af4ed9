//! Names and discs beside symbols: each takes the free place with the least in its way.

use super::run::sheet;
use super::scene::{Owner, Scene, Sort, Stroke, Waiting, around, round};
use crate::layout::Rect;
use crate::layout::item::radius;
use crate::picture::{Anchor, Look, Name};
use crate::text::{self, LINE, NAME};

/// A place for a name.
#[derive(Debug, Clone)]
struct Place {
    lines: Vec<String>,
    text: Rect,
    anchor: Anchor,
    disc: Option<(f64, f64)>,
    radius: f64,
    /// What it costs without the other names.
    cost: f64,
}

/// A name that costs as much stands on something.
const BADLY: f64 = 80.0;
/// Places of each that a pair tries.
const CHEAPEST: usize = 24;
/// Rounds in which names give way to each other.
const ROUNDS: usize = 3;

impl Scene<'_> {
    /// What a rectangle would lie on.
    pub(super) fn in_the_way(&self, rect: Rect, own: Owner) -> f64 {
        self.on_things(rect, own) + self.on_strokes(rect)
    }

    fn on_things(&self, rect: Rect, own: Owner) -> f64 {
        let mut cost = 0.0;
        let whole = sheet(self.layout.width, self.layout.height.ceil());
        for beyond in [
            2.0 - rect.x,
            rect.right() - whole.right() + 2.0,
            1.0 - rect.y,
            rect.bottom() - whole.bottom() + 1.0,
        ] {
            cost += beyond.max(0.0) * 300.0;
        }
        for taken in &self.taken {
            let (width, height) = rect.shared(taken.rect);
            if width <= 0.5 || height <= 0.5 {
                continue;
            }
            let owned = own != Owner::Nobody && taken.owner == own;
            let inside = width >= rect.width - 0.5 && height >= rect.height - 0.5;
            match (owned, taken.sort) {
                // A box holds its own name whole, or not at all.
                (true, Sort::Frame) if inside => {}
                (true, Sort::Disc | Sort::Bead | Sort::Eye) => {}
                (true, Sort::Symbol) if matches!(own, Owner::Part(_)) => {}
                _ => cost += width * height + 80.0,
            }
        }
        cost
    }

    fn on_strokes(&self, rect: Rect) -> f64 {
        let mut cost = 0.0;
        for Stroke { from, to } in &self.strokes {
            let line = Rect {
                x: from.0.min(to.0) - 5.0,
                y: from.1.min(to.1) - 5.0,
                width: (to.0 - from.0).abs() + 10.0,
                height: (to.1 - from.1).abs() + 10.0,
            };
            let (width, height) = rect.shared(line);
            if width > 0.0 && height > 0.0 {
                cost += width * height * 0.5 + 14.0;
            }
        }
        cost
    }

    /// Readings beside their points, with a line to them.
    pub(super) fn lifted(&mut self) {
        for one in std::mem::take(&mut self.lifted) {
            let width = self.bead_width(&one.read);
            let mut best = (f64::INFINITY, one.x, one.y - 29.0);
            for (rank, dy) in [-29.0, 29.0, -40.0, 40.0, -54.0, 54.0].into_iter().enumerate() {
                for dx in [0.0, -10.0, 10.0, -20.0, 20.0, -32.0, 32.0, -46.0, 46.0, -62.0, 62.0] {
                    let (x, y): (f64, f64) = (one.x + dx, one.y + dy);
                    let cost = self.in_the_way(around(x, y, width, 28.0), Owner::Nobody)
                        + rank as f64 * 3.0
                        + dx.abs() * 0.2;
                    if cost < best.0 {
                        best = (cost, x, y);
                    }
                }
            }
            let (_, x, y) = best;
            let foot = x.clamp(one.x - width / 2.0 + 8.0, one.x + width / 2.0 - 8.0);
            self.link(
                &[(one.x, one.y), (one.x.clamp(foot.min(x), foot.max(x).max(one.x)), y)],
                false,
                Look::Plain,
            );
            self.bead(x, y, &one.read, &one.points, None);
        }
    }

    /// Names and discs: first each for itself, then each once more with the others where they are.
    pub(super) fn names(&mut self, early: bool) {
        let all = std::mem::take(&mut self.waiting);
        let (mut waiting, later): (Vec<Waiting>, Vec<Waiting>) =
            all.into_iter().partition(|one| !early || one.early);
        self.waiting = later;
        waiting.retain(|one| !one.lines.is_empty() || one.disc.is_some());
        // Whoever has a disc to place first, then boxes, then the rest: from the top.
        waiting.sort_by(|one, other| {
            let rank = |one: &Waiting| (one.disc.is_none(), !one.only);
            rank(one).cmp(&rank(other)).then(one.y.total_cmp(&other.y)).then(one.x.total_cmp(&other.x))
        });
        let places: Vec<Vec<Place>> = waiting.iter().map(|one| self.places(one)).collect();
        let mut chosen: Vec<Option<&Place>> = vec![None; waiting.len()];
        for _ in 0..ROUNDS {
            for (at, places) in places.iter().enumerate() {
                let others = || {
                    chosen
                        .iter()
                        .enumerate()
                        .filter(|(other, _)| *other != at)
                        .filter_map(|(_, place)| *place)
                };
                let cost =
                    |place: &Place| place.cost + others().map(|other| clash(place, other)).sum::<f64>();
                let best = places
                    .iter()
                    .map(|place| (cost(place), place))
                    .min_by(|one, other| one.0.total_cmp(&other.0))
                    .map(|(_, place)| place);
                if let Some(slot) = chosen.get_mut(at) {
                    *slot = best;
                }
            }
        }
        pairs(&places, &mut chosen);
        for (one, place) in waiting.iter().zip(&chosen) {
            if let Some(place) = place {
                self.name(one, place);
            }
        }
    }

    /// The better half of all places for a name with its disc.
    fn places(&self, one: &Waiting) -> Vec<Place> {
        let mut places = Vec::new();
        let mut kinds = vec![one.lines.clone()];
        if one.lines.len() == 2 && one.lines.iter().map(|line| line.chars().count()).sum::<usize>() <= 11 {
            kinds.push(vec![one.lines.join(" ")]);
        }
        let discs: Vec<((f64, f64), f64)> =
            one.disc.iter().flat_map(|item| self.disc_places(one, radius(item.share))).collect();
        for (kind, lines) in kinds.into_iter().enumerate() {
            let size = (text::widest(&lines, NAME), lines.len() as f64 * LINE - 3.0);
            for (rank, (x, y, anchor)) in self.spots(one, size).into_iter().enumerate() {
                let text = Rect { x, y, width: size.0, height: size.1 };
                let cost = self.in_the_way(text, one.owner) + rank as f64 * 1.5 + kind as f64 * 4.0;
                let place = Place { lines: lines.clone(), text, anchor, disc: None, radius: 0.0, cost };
                let Some(item) = &one.disc else {
                    places.push(place);
                    continue;
                };
                let radius = radius(item.share);
                for ((x, y), more) in &discs {
                    let (width, height) = text.shared(around(*x, *y, 2.0 * radius, 2.0 * radius));
                    let touch = if width > 0.0 && height > 0.0 { 300.0 + width * height } else { 0.0 };
                    let disc = Some((*x, *y));
                    places.push(Place { disc, radius, cost: cost + more + touch, ..place.clone() });
                }
            }
        }
        places
    }

    /// Places for a disc beside its symbol, the last one on it.
    fn disc_places(&self, one: &Waiting, radius: f64) -> Vec<((f64, f64), f64)> {
        let beside = discs(one, radius).into_iter().enumerate();
        let mut places: Vec<((f64, f64), f64)> = beside
            .map(|(rank, (x, y))| {
                let rect = around(x, y, 2.0 * radius, 2.0 * radius);
                ((x, y), self.in_the_way(rect, one.owner) * 1.2 + rank as f64 * 2.0)
            })
            .collect();
        if !one.only {
            let rect = around(one.x, one.y, 2.0 * radius, 2.0 * radius);
            places.push(((one.x, one.y), self.on_things(rect, one.owner) * 1.2 + 70.0));
        }
        places
    }

    fn spots(&self, one: &Waiting, (width, height): (f64, f64)) -> Vec<(f64, f64, Anchor)> {
        let mut spots: Vec<(f64, f64, Anchor)> =
            one.first.iter().map(|(x, y)| (*x, *y, Anchor::Middle)).collect();
        if one.only {
            return spots;
        }
        let (x, y) = (one.x, one.y);
        let (half, tall) = (one.half.0 + 7.0, one.half.1 + 4.0);
        let (right, left) = (x + half, x - half - width);
        for shift in [0.0, 12.0, -12.0, 22.0, -22.0, 32.0, -32.0, 44.0, -44.0] {
            spots.push((right, y - height / 2.0 + shift, Anchor::Start));
            spots.push((left, y - height / 2.0 + shift, Anchor::End));
        }
        // Beyond a disc that lies on the symbol.
        if let Some(item) = &one.disc {
            let radius = radius(item.share) + 4.0;
            for shift in [0.0, 14.0, -14.0] {
                spots.push((x + radius, y - height / 2.0 + shift, Anchor::Start));
                spots.push((x - radius - width, y - height / 2.0 + shift, Anchor::End));
            }
            spots.push((x - width / 2.0, y + radius, Anchor::Middle));
            spots.push((x - width / 2.0, y - radius - height, Anchor::Middle));
        }
        for shift in [0.0, -width / 2.0 + 10.0, width / 2.0 - 10.0] {
            spots.push((x - width / 2.0 + shift, y + tall, Anchor::Middle));
            spots.push((x - width / 2.0 + shift, y - tall - height, Anchor::Middle));
        }
        spots
    }

    fn name(&mut self, one: &Waiting, place: &Place) {
        if let (Some(item), Some((x, y))) = (&one.disc, place.disc) {
            self.disc(x, y, item.share, &item.suspects, one.owner);
        }
        if place.lines.is_empty() {
            return;
        }
        let x = match place.anchor {
            Anchor::Start => place.text.x,
            Anchor::Middle => place.text.x + place.text.width / 2.0,
            Anchor::End => place.text.right(),
        };
        for (row, line) in place.lines.iter().enumerate() {
            let width = text::width(line, NAME);
            let left = match place.anchor {
                Anchor::Start => x,
                Anchor::Middle => x - width / 2.0,
                Anchor::End => x - width,
            };
            let rect = Rect { x: left, y: place.text.y + row as f64 * LINE + 1.0, width, height: LINE - 4.0 };
            let owner = match one.owner {
                Owner::Hub(hub) => Owner::Hub(hub),
                _ => Owner::Nobody,
            };
            self.take(rect, Sort::Text, owner);
        }
        self.say(place.lines.clone(), (x, place.text.y + 13.0), place.anchor, one.look, &one.parts);
    }

    fn say(&mut self, lines: Vec<String>, at: (f64, f64), anchor: Anchor, look: Look, parts: &[usize]) {
        let parts = self.part_ids(parts);
        let name =
            Name { lines, x: round(at.0), y: round(at.1), anchor, size: NAME, pin: false, look, parts };
        self.picture.names.push(name);
    }

    /// A name somewhere along a bar.
    pub(super) fn along_bar(&mut self, name: &str, y: f64, heights: [f64; 4]) {
        let width = text::width(name, NAME);
        let mut best: Option<(f64, Rect)> = None;
        for (rank, above) in heights.into_iter().enumerate() {
            let mut x = 6.0;
            while x <= self.layout.width - 6.0 - width {
                let rect = Rect { x, y: y + above, width, height: 14.0 };
                let cost = self.in_the_way(rect, Owner::Nobody) + rank as f64 * 4.0 + x * 0.01;
                if best.as_ref().is_none_or(|best| cost < best.0) {
                    best = Some((cost, rect));
                }
                x += 5.0;
            }
        }
        if let Some((_, rect)) = best {
            self.take(Rect { y: rect.y + 1.0, height: 13.0, ..rect }, Sort::Text, Owner::Nobody);
            self.say(vec![name.to_owned()], (rect.x, rect.y + 13.0), Anchor::Start, Look::Plain, &[]);
        }
    }
}

/// Places for a disc beside its symbol.
fn discs(one: &Waiting, radius: f64) -> Vec<(f64, f64)> {
    let (half, tall) = (one.half.0 + 6.0 + radius, one.half.1 + 4.0 + radius);
    let mut discs = Vec::new();
    for shift in [0.0, 14.0, -14.0] {
        discs.push((one.x + half, one.y + shift));
        discs.push((one.x - half, one.y + shift));
    }
    discs.push((one.x, one.y + tall));
    discs.push((one.x, one.y - tall));
    discs
}

/// Where two are in each other's way, both look for places together.
fn pairs<'p>(places: &'p [Vec<Place>], chosen: &mut [Option<&'p Place>]) {
    let cheapest = |places: &'p [Place]| {
        let mut sorted: Vec<&'p Place> = places.iter().collect();
        sorted.sort_by(|one, other| one.cost.total_cmp(&other.cost));
        sorted.truncate(CHEAPEST);
        sorted
    };
    for one in 0..places.len() {
        for other in 0..places.len() {
            let at = |place: usize| chosen.get(place).copied().flatten();
            let (Some(first), Some(second)) = (at(one), at(other)) else { continue };
            let others: Vec<&Place> = chosen
                .iter()
                .enumerate()
                .filter(|(at, _)| *at != one && *at != other)
                .filter_map(|(_, place)| *place)
                .collect();
            let alone =
                |place: &Place| place.cost + others.iter().map(|with| clash(place, with)).sum::<f64>();
            let now = alone(first) + alone(second) + clash(first, second);
            // Only who stands badly looks for a partner that would give way.
            if one == other || alone(first) + clash(first, second) < BADLY {
                continue;
            }
            let list = |at: usize| {
                let own = places.get(at).map(|places| cheapest(places)).unwrap_or_default();
                own.into_iter().map(|place| (alone(place), place)).collect::<Vec<_>>()
            };
            let mut best = (now - 1.0, None);
            let seconds = list(other);
            for (cost, place) in list(one) {
                for (with_cost, with) in &seconds {
                    let whole = cost + with_cost + clash(place, with);
                    if whole < best.0 {
                        best = (whole, Some((place, *with)));
                    }
                }
            }
            if let Some((place, with)) = best.1 {
                for (at, place) in [(one, place), (other, with)] {
                    if let Some(slot) = chosen.get_mut(at) {
                        *slot = Some(place);
                    }
                }
            }
        }
    }
}

/// Two names, or a name and a disc, on each other.
fn clash(one: &Place, other: &Place) -> f64 {
    let rects = |place: &Place| {
        let size = 2.0 * place.radius;
        let disc = place.disc.map(|(x, y)| around(x, y, size, size));
        [Some(place.text), disc]
    };
    let mut cost = 0.0;
    for rect in rects(one).into_iter().flatten() {
        for with in rects(other).into_iter().flatten() {
            let (width, height) = rect.shared(with);
            if width > 0.5 && height > 0.5 {
                cost += width * height + 80.0;
            }
        }
    }
    cost
}
