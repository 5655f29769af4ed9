//! What lies on the rails, each in one row.

use super::item::{Density, Item, Run, What, has_lead, length, radius, suspect_radius};
use super::on_run::items;
use super::pack::Pack;
use crate::picture::Look;

/// Rail that is a bar alone: from the sheet's edge.
const BAR: f64 = 31.0;

impl Pack<'_> {
    pub(super) fn row(&self, run: Run) -> Option<Vec<Item>> {
        if run.slots(self.given.graph).is_empty() {
            return None;
        }
        let density = Density { rings: 0.0, folded: true, ..self.step.density() };
        let mut row = items(self.given, run, density);
        // A rail has one row and no more.
        let ends = [run.points(self.given.graph).first(), run.points(self.given.graph).last()];
        let marked = ends.into_iter().flatten().filter(|point| {
            self.given.known.read.contains_key(point) || self.given.known.leads.contains_key(point)
        });
        let room = self.out.width - 60.0 - 40.0 * marked.count() as f64;
        let too_long = |row: &[Item]| {
            beside(row.to_vec()).iter().map(|item| length(self.given, item, true)).sum::<f64>() > room
        };
        if too_long(&row) {
            row = items(self.given, run, Density { grouped: true, bare: true, ..density });
        }
        if too_long(&row) {
            row = items(self.given, run, Density { grouped: true, bare: true, quiet: true, ..density });
        }
        let shown: Vec<&Item> = row.iter().filter(|item| item.shown()).collect();
        if shown.iter().all(|item| matches!(item.what, What::Mark(_)) && !has_lead(self.given, item)) {
            return None;
        }
        let clear = |item: &Item| match item.what {
            What::Wire | What::Capsule | What::Ring(_) => true,
            What::Symbol => item.look != Look::Plain && !item.suspect(),
            What::Mark(point) => !self.given.known.matters(point),
            What::Disc | What::Span(_) => false,
        };
        if self.level() >= 2 && row.iter().all(clear) {
            return None;
        }
        Some(beside(row))
    }

    pub(super) fn rails(&mut self) {
        for run in [Run::Top, Run::Bottom] {
            let mut row = self.row(run);
            let mut disc = None;
            if let Some(items) = &row {
                let shown: Vec<&Item> = items.iter().filter(|item| item.shown()).collect();
                if let [only] = shown.as_slice()
                    && only.what == What::Disc
                    && only.share < 0.2
                {
                    disc = Some((*only).clone());
                    row = None;
                }
            }
            let row = row.map(|items| {
                let middle = (most_radius(&items) + 22.0).max(36.0);
                (items, middle)
            });
            match run {
                Run::Top => (self.out.top_row, self.out.top_disc) = (row, disc),
                _ => (self.out.bottom_row, self.out.bottom_disc) = (row, disc),
            }
        }
    }
}

/// On a rail a symbol's disc stands behind it; with few things a name takes one line.
fn beside(row: Vec<Item>) -> Vec<Item> {
    let mut out: Vec<Item> = Vec::new();
    for item in row {
        if item.is_symbol() && item.suspect() {
            let disc = Item {
                what: What::Disc,
                at: item.at + 0.001,
                room: 2.0 * radius(item.share) + 6.0,
                label: Vec::new(),
                ..item.clone()
            };
            out.push(Item { share: 0.0, suspects: Vec::new(), room: 40.0, ..item });
            out.push(disc);
        } else {
            out.push(item);
        }
    }
    if out.iter().filter(|item| item.shown()).count() <= 3 {
        for item in out.iter_mut().filter(|item| item.is_symbol()) {
            item.label = vec![item.label.join(" ")];
        }
    }
    out
}

pub(super) fn most_radius(row: &[Item]) -> f64 {
    row.iter().filter(|item| item.suspect()).map(|item| radius(item.share)).fold(0.0, f64::max)
}

/// Height of a rail; `disc`: likelihood of what stands on the bar itself.
pub(super) fn row_height(row: Option<&[Item]>, disc: f64) -> f64 {
    let Some(row) = row else { return BAR.max(suspect_radius(disc) + 4.0) };
    let most = most_radius(row);
    let names = row.iter().filter(|item| item.is_symbol()).map(|item| item.label.len()).max();
    let below = match names {
        Some(lines) if lines > 1 => 54.0,
        Some(_) => 40.0,
        None => (most + 14.0).max(32.0),
    };
    (most + 22.0).max(36.0) + below
}
