//! What stands on a run, from its upper end.

use super::capsule::folded;
use super::dense::{group, merge, rings, spans};
use super::homes::Homes;
use super::item::{Density, Given, Item, Run, What, has_lead, radius, size};
use crate::known::SUSPECT;
use crate::picture::{Judged, Look};

/// The things on a run, from its upper end.
pub(crate) fn items(given: Given<'_>, run: Run, density: Density) -> Vec<Item> {
    let homes = Homes::of(given.graph, run);
    let mut items = Vec::new();
    let mut joined: Option<Item> = None;
    for (place, point) in run.points(given.graph).iter().copied().enumerate() {
        let marked = given.known.read.contains_key(&point) || given.known.leads.contains_key(&point);
        if marked && !run.at_bar(given.graph, place) {
            flush(&mut items, &mut joined);
            items.push(mark(given, point, homes.point(place)));
        }
        let Some(slot) = run.slots(given.graph).get(place).copied() else { continue };
        let one = of_slot(given, slot, homes.slot(place));
        if given.graph.net.parts[given.graph.slots[slot].usual()].kind.joins() {
            let wire = Item { what: What::Wire, room: 0.0, share: 0.0, suspects: Vec::new(), ..one.clone() };
            items.push(wire);
            let joint = joined.get_or_insert_with(Item::default);
            joint.share += one.share;
            joint.suspects.extend(one.suspects);
            joint.slots.push(slot);
            joint.at += one.at;
        } else {
            flush(&mut items, &mut joined);
            items.push(one);
        }
    }
    flush(&mut items, &mut joined);
    spans(given, run, &homes, &mut items);
    if density.grouped {
        group(given, &mut items);
    }
    if density.merged {
        merge(&mut items);
    }
    if density.rings > 0.0 {
        rings(given, run, &homes, density.rings, &mut items);
    }
    if density.folded {
        items = folded(given, items);
    }
    if density.quiet && !items.iter().any(|item| has_lead(given, item)) {
        items.retain(|item| match item.what {
            What::Ring(_) => false,
            What::Mark(point) => given.known.matters(point),
            What::Span(number) => {
                given.known.spans.get(number).is_none_or(|span| span.read.judged != Judged::Good)
            }
            _ => true,
        });
    }
    if density.bare {
        for item in
            items.iter_mut().filter(|item| item.is_symbol() && item.look == Look::RuledOut && !item.suspect())
        {
            (item.what, item.room) = (What::Wire, 0.0);
        }
    }
    for item in items.iter_mut().filter(|item| item.room > 26.0) {
        item.room -= density.tight;
    }
    if density.shrunk {
        for item in
            items.iter_mut().filter(|item| item.is_symbol() && item.look == Look::RuledOut && !item.suspect())
        {
            item.room = (item.room - 6.0).max(24.0);
        }
    }
    items
}

fn mark(given: Given<'_>, point: usize, at: f64) -> Item {
    let room = match (given.known.read.contains_key(&point), given.known.leads.contains_key(&point)) {
        (true, true) => 60.0,
        (true, false) => 34.0,
        _ => 30.0,
    };
    Item { what: What::Mark(point), at, room, ..Item::default() }
}

fn of_slot(given: Given<'_>, slot: usize, at: f64) -> Item {
    let parts = &given.graph.slots[slot].parts;
    let usual = given.graph.slots[slot].usual();
    let share: f64 = parts.iter().map(|part| given.known.share[*part]).sum();
    let kind = given.graph.net.parts[usual].kind;
    let disc = if share > SUSPECT { 2.0 * radius(share) + 8.0 } else { 0.0 };
    Item {
        what: What::Symbol,
        at,
        room: (size(kind).1 + 8.0).max(disc),
        share,
        suspects: parts.iter().copied().filter(|part| given.known.share[*part] > 0.0).collect(),
        slots: vec![slot],
        look: given.known.look[usual],
        idle: given.graph.odds(slot) == 0.0,
        label: given.speech.part(usual),
    }
}

fn flush(items: &mut Vec<Item>, joined: &mut Option<Item>) {
    if let Some(joint) = joined.take().filter(Item::suspect) {
        let at = joint.at / joint.slots.len().max(1) as f64;
        let room = 2.0 * radius(joint.share) + 10.0;
        items.push(Item { what: What::Disc, at, room, ..joint });
    }
}
