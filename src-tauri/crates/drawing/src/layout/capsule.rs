//! Runs of which everything is proven fold into "n good".

use super::item::{Given, Item, What, has_lead};
use crate::picture::{Judged, Look};

/// Parts from which on folding saves anything.
const LEAST: usize = 3;

pub(super) fn folded(given: Given<'_>, items: Vec<Item>) -> Vec<Item> {
    let mut out = Vec::new();
    let mut run: Vec<Item> = Vec::new();
    for item in items {
        if is_good(given, &item) {
            run.push(item);
        } else {
            close(given, &mut run, &mut out);
            out.push(item);
        }
    }
    close(given, &mut run, &mut out);
    out
}

fn is_good(given: Given<'_>, item: &Item) -> bool {
    match item.what {
        What::Wire => item.look == Look::Proven || item.idle,
        What::Symbol => item.look == Look::Proven && !item.suspect(),
        What::Ring(_) => true,
        What::Mark(point) => {
            let good = given.known.read.get(&point).is_some_and(|read| read.judged == Judged::Good);
            good && !given.known.matters(point) && !has_lead(given, item)
        }
        What::Disc | What::Span(_) | What::Capsule => false,
    }
}

fn close(given: Given<'_>, run: &mut Vec<Item>, out: &mut Vec<Item>) {
    let run = std::mem::take(run);
    let parts = run.iter().filter(|item| item.look == Look::Proven).count();
    let symbols = run.iter().filter(|item| item.is_symbol()).count();
    if symbols == 0 || parts < LEAST && symbols < 2 {
        out.extend(run);
        return;
    }
    let homes: Vec<f64> = run.iter().filter(|item| item.shown()).map(|item| item.at).collect();
    let at = homes.iter().sum::<f64>() / homes.len().max(1) as f64;
    let slots: Vec<usize> =
        run.iter().filter(|item| item.look == Look::Proven).flat_map(|item| item.slots.clone()).collect();
    let read = |item: &&Item| matches!(item.what, What::Mark(point) if given.known.read.contains_key(&point));
    let last = run.iter().rev().find(read).cloned();
    out.push(Item {
        what: What::Capsule,
        at,
        room: 36.0,
        slots: slots.clone(),
        look: Look::Proven,
        ..Item::default()
    });
    out.push(Item { what: What::Wire, at, slots, look: Look::Proven, ..Item::default() });
    out.extend(last);
}
