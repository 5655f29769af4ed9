//! What stands closer or for others on a run: groups, one symbol for several, rings, readings between two points.

use super::homes::Homes;
use super::item::{Given, Item, Run, What, radius, size};

pub(super) fn spans(given: Given<'_>, run: Run, homes: &Homes, items: &mut Vec<Item>) {
    let points = run.points(given.graph);
    let place = |point: usize| points.iter().position(|other| *other == point);
    for (number, span) in given.known.spans.iter().enumerate() {
        let Some(Some(host)) = given.hosts.get(number) else { continue };
        if host.run != run {
            continue;
        }
        let ends: Vec<f64> =
            [span.red, span.black].into_iter().filter_map(place).map(|place| homes.point(place)).collect();
        let at = ends.iter().sum::<f64>() / ends.len().max(1) as f64;
        let before = items.iter().rposition(|item| item.at <= at + 1e-9 && item.what != What::Wire);
        let item = Item { what: What::Span(number), at, room: 34.0, ..Item::default() };
        // Behind what lies before it, and behind the wires up to there.
        let wires = items.iter().rposition(|item| item.at <= at + 1e-9);
        let behind = before.max(wires).map_or(0, |place| place + 1);
        items.insert(behind.min(items.len()), item);
    }
}

/// Suspects between two marks become one disc.
pub(super) fn group(given: Given<'_>, items: &mut Vec<Item>) {
    let bounds = |item: &Item| matches!(item.what, What::Mark(_) | What::Span(_));
    let mut gone = Vec::new();
    let mut start = 0;
    for end in 0..=items.len() {
        if items.get(end).is_some_and(|item| !bounds(item)) {
            continue;
        }
        let suspects: Vec<usize> =
            (start..end).filter(|place| items.get(*place).is_some_and(Item::suspect)).collect();
        let symbol = suspects.iter().copied().find(|place| items.get(*place).is_some_and(Item::is_symbol));
        if let (Some(host), true) = (symbol.or(suspects.first().copied()), suspects.len() > 1) {
            let mut sum = Item::default();
            for place in &suspects {
                if let Some(item) = items.get_mut(*place) {
                    sum.share += item.share;
                    sum.suspects.append(&mut item.suspects);
                    item.share = 0.0;
                    if item.is_symbol() {
                        item.room = symbol_room(given, item);
                    } else if *place != host {
                        gone.push(*place);
                    }
                }
            }
            if let Some(item) = items.get_mut(host) {
                item.share = sum.share;
                item.suspects = sum.suspects;
                item.room = item.room.max(2.0 * radius(sum.share) + 8.0);
            }
        }
        start = end + 1;
    }
    gone.sort_unstable();
    for place in gone.into_iter().rev() {
        items.remove(place);
    }
}

/// Between two marks only the most suspect symbol stays, with the number of those it stands for.
pub(super) fn merge(items: &mut [Item]) {
    let bounds = |item: &Item| matches!(item.what, What::Mark(_) | What::Span(_));
    for run in items.split_mut(bounds) {
        let symbols = run.iter().filter(|item| item.is_symbol()).count();
        let most = run
            .iter()
            .enumerate()
            .filter(|(_, item)| item.is_symbol())
            .max_by(|one, other| one.1.share.total_cmp(&other.1.share).then(other.0.cmp(&one.0)));
        let Some(host) = most.map(|(place, _)| place).filter(|_| symbols > 1) else { continue };
        for (place, item) in run.iter_mut().enumerate().filter(|(_, item)| item.is_symbol()) {
            if place != host {
                (item.what, item.room) = (What::Wire, 0.0);
            } else if let Some(last) = item.label.last_mut() {
                last.push_str(&format!(" +{}", symbols.saturating_sub(1)));
            }
        }
    }
}

fn symbol_room(given: Given<'_>, item: &Item) -> f64 {
    let slot = item.slots.first().copied().unwrap_or(usize::MAX);
    size(given.graph.net.parts[given.graph.slots[slot].usual()].kind).1 + 8.0
}

/// A ring between two symbols where nothing else is drawn.
pub(super) fn rings(given: Given<'_>, run: Run, homes: &Homes, room: f64, items: &mut Vec<Item>) {
    let mut place = 0;
    let mut before = false;
    while let Some(item) = items.get(place) {
        let symbol = item.is_symbol();
        if symbol && before {
            let slot = item.slots.first().copied();
            let at = run.slots(given.graph).iter().position(|one| Some(*one) == slot).unwrap_or(0);
            let point = run.points(given.graph).get(at).copied().unwrap_or(usize::MAX);
            if given.graph.net.points[point].reachable {
                items.insert(
                    place,
                    Item { what: What::Ring(point), at: homes.point(at), room, ..Item::default() },
                );
                place += 1;
            }
        }
        if items.get(place).is_some_and(Item::shown) {
            before = symbol;
        }
        place += 1;
    }
}
