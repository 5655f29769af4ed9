//! Heights: the longest path over what each strand shows.

use std::collections::BTreeMap;

use super::Layout;
use super::item::Given;
use super::pack::{Pack, Step};
use super::rows::row_height;
use crate::columns::{Form, on_contacts};
use crate::known::SUSPECT;
use crate::layout::item::radius;
use crate::sheet::Sheet;

/// A drawing isn't lower than this: targets want room.
const LEAST: f64 = 320.0;
/// Rounds of the longest path.
const ROUNDS: usize = 16;

/// Heights of hubs when nothing is read, and the top rail's.
pub(crate) type Rest = (BTreeMap<usize, f64>, f64);

/// The layout at one step of folding.
pub(crate) fn layout(sheet: &Sheet, given: Given<'_>, width: f64, step: Step, rest: Option<&Rest>) -> Layout {
    let mut pack =
        Pack { sheet, given, step, out: Layout { width, folded: step.level, ..Layout::default() } };
    pack.rails();
    pack.strands();
    pack.below();
    pack.boxes();
    let battery = given.known.share[given.graph.net.battery];
    let disc = pack.out.top_disc.as_ref().map_or(battery, |item| item.share.max(battery));
    let top = row_height(pack.out.top_row.as_ref().map(|(row, _)| row.as_slice()), disc);
    pack.fall(top, rest.filter(|_| !step.free));
    pack.out
}

impl Pack<'_> {
    /// The least height of a strand.
    fn least(&self, place: usize) -> f64 {
        let strand = &self.given.graph.strands[place];
        let run = self.out.items.get(&place).map(Vec::as_slice).unwrap_or_default();
        let mut least = if strand.slots.is_empty() && run.iter().all(|item| !item.shown()) {
            18.0
        } else if self.out.stubs.contains(&place) {
            let share: f64 = run.iter().map(|item| item.share).sum();
            if share > SUSPECT { 2.0 * radius(share) + 34.0 } else { 40.0 }
        } else {
            let boxes =
                usize::from(self.ends_in_box(place, true)) + usize::from(self.ends_in_box(place, false));
            (self.length(place) + boxes as f64 * 5.0 + 4.0).max(34.0)
        };
        // A wire between two relays turns round below them.
        let graph = self.given.graph;
        for (between, depth) in &self.out.below {
            let relays = &graph.strands[*between];
            if relays.meets(strand.from) && strand.to == graph.bottom_hub {
                least = f64::max(least, depth + 38.0);
            }
        }
        least
    }

    fn fall(&mut self, top: f64, rest: Option<&Rest>) {
        let graph = self.given.graph;
        let down: Vec<(usize, f64)> =
            self.sheet.columns.all(Form::Down).map(|strand| (strand, self.least(strand))).collect();
        let mut y: BTreeMap<usize, f64> = BTreeMap::new();
        for hub in self.sheet.columns.level.keys().copied() {
            let start = match rest {
                _ if hub == graph.top_hub => top,
                Some((heights, first)) => heights.get(&hub).map_or(0.0, |y| (y - first + top).max(0.0)),
                None => 0.0,
            };
            y.insert(hub, start);
        }
        for _ in 0..ROUNDS {
            for (strand, least) in &down {
                let strand = &graph.strands[*strand];
                let height = self.out.boxes.get(&strand.from).map_or(0.0, |rect| rect.height);
                let below = y.get(&strand.from).copied().unwrap_or(0.0) + height + least;
                let own = y.entry(strand.to).or_insert(0.0);
                *own = own.max(below);
            }
            self.level_rows(&mut y);
        }
        let bottom = graph.bottom_hub;
        let bottom_free = !down.iter().any(|(strand, _)| graph.strands[*strand].to == bottom);
        let lowest = |y: &BTreeMap<usize, f64>| {
            let end = |(hub, y): (&usize, &f64)| y + self.out.boxes.get(hub).map_or(0.0, |rect| rect.height);
            y.iter().map(end).fold(0.0, f64::max)
        };
        // Nothing lies below the lower rail, whatever leads there.
        y.insert(
            bottom,
            y.get(&bottom).copied().unwrap_or(0.0).min(if bottom_free { 0.0 } else { f64::INFINITY }),
        );
        let below = lowest(&y);
        if y.get(&bottom).is_none_or(|y| *y < below - 1.0) {
            y.insert(bottom, below + 34.0);
        }
        let disc = self.out.bottom_disc.as_ref().map_or(0.0, |item| item.share);
        let tail = row_height(self.out.bottom_row.as_ref().map(|(row, _)| row.as_slice()), disc);
        let mut height = y.get(&bottom).copied().unwrap_or(0.0) + tail;
        if height < LEAST {
            let (slack, whole) = (LEAST - height, (height - tail - top).max(1.0));
            for (hub, y) in &mut y {
                if *hub != graph.top_hub {
                    *y += slack * ((*y - top) / whole).clamp(0.0, 1.0);
                }
            }
            self.level_rows(&mut y);
            height = LEAST;
        }
        for (hub, rect) in &mut self.out.boxes {
            rect.y = y.get(hub).copied().unwrap_or(0.0);
        }
        self.hanging();
        self.out.y = y;
        self.out.height = height;
    }

    fn level_rows(&self, y: &mut BTreeMap<usize, f64>) {
        let rows = &self.sheet.columns.row;
        for (hub, row) in rows {
            let beside = rows.iter().filter(|(_, other)| *other == row);
            let most = beside.filter_map(|(other, _)| y.get(other)).copied().fold(0.0, f64::max);
            y.insert(*hub, most);
        }
    }
}

/// Column of a wire's end at a relay.
pub(crate) fn relay_column(sheet: &Sheet, hub: usize, point: usize) -> usize {
    sheet.columns.half(hub, on_contacts(&sheet.graph, hub, point))
}
