//! Shapes, rows and levels: what the search for columns starts from.

use std::collections::{BTreeMap, BTreeSet};

use super::{Columns, Form, Lane};
use crate::graph::{Graph, HubKind};

impl Columns {
    /// How each strand runs. Strands that end nowhere aren't drawn.
    pub(super) fn shapes(&mut self, graph: &Graph) {
        let used = |hub: usize| graph.strands.iter().any(|strand| strand.meets(hub));
        let frames: Vec<usize> =
            graph.hubs.places().filter(|hub| graph.is_frame(*hub) && used(*hub)).collect();
        // With several boxes in the columns there is no room for one beside them.
        let crowd = frames
            .iter()
            .filter(|hub| {
                graph
                    .strands
                    .places()
                    .any(|strand| graph.strands[strand].meets(**hub) && !graph.is_side(strand))
            })
            .count()
            > 1;
        for hub in frames.iter().copied() {
            let on: Vec<usize> =
                graph.strands.places().filter(|strand| graph.strands[*strand].meets(hub)).collect();
            let beyond: BTreeSet<usize> =
                on.iter().map(|strand| graph.strands[*strand].beyond(hub)).collect();
            let only = beyond.first().copied().filter(|other| beyond.len() == 1 && *other != hub);
            if let Some(other) = only
                && !crowd
                && !graph.is_relay(hub)
                && graph.is_frame(other)
                && graph
                    .strands
                    .places()
                    .any(|strand| graph.strands[strand].meets(other) && !graph.is_side(strand))
            {
                self.hangs_on.insert(hub, other);
            }
        }
        for place in graph.strands.places() {
            let strand = &graph.strands[place];
            let ends = [strand.from, strand.to];
            if ends.iter().any(|hub| graph.hubs[*hub].kind == HubKind::Dead) {
                continue;
            }
            let form = if !graph.is_side(place) || feeds_coil(graph, place) {
                Form::Down
            } else if strand.from == strand.to {
                Form::Loop
            } else if ends.iter().any(|hub| self.hangs_on.contains_key(hub)) {
                Form::Across
            } else if self.stacked {
                Form::Down
            } else if ends.iter().all(|hub| !graph.is_relay(*hub)) {
                Form::Across
            } else {
                Form::Gutter
            };
            self.forms.insert(place, form);
        }
    }

    /// Strands by falling difference of potential; one that would close a ring is turned round.
    pub(super) fn acyclic(&self, graph: &mut Graph) {
        let mut down: Vec<usize> = self.all(Form::Down).collect();
        let drop = |graph: &Graph, strand: usize| {
            let strand = &graph.strands[strand];
            (graph.net.potential(strand.first()) - graph.net.potential(strand.last())).abs()
        };
        down.sort_by(|one, other| drop(graph, *other).total_cmp(&drop(graph, *one)).then(one.cmp(other)));
        let mut below: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for place in down {
            let (from, to) = (graph.strands[place].from, graph.strands[place].to);
            if from != to && reaches(&below, to, from) {
                graph.strands[place].turn();
            }
            let strand = &graph.strands[place];
            below.entry(strand.from).or_default().push(strand.to);
        }
    }

    /// Boxes that lie one behind the other take rows of their own; all others stand side by side, which saves the height.
    pub(super) fn rows(&mut self, graph: &Graph) {
        let mut below: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for place in self.all(Form::Down) {
            let strand = &graph.strands[place];
            below.entry(strand.from).or_default().push(strand.to);
        }
        let standing = self.standing(graph);
        self.row = standing.iter().map(|hub| (*hub, 0)).collect();
        for _ in 0..standing.len().min(12) {
            for hub in standing.iter().copied() {
                let row = self.row.get(&hub).copied().unwrap_or(0);
                for behind in boxes_below(&below, &self.row, hub) {
                    let at = self.row.entry(behind).or_insert(0);
                    *at = (*at).max(row + 1).min(12);
                }
            }
        }
    }

    /// Longest path from the top rail.
    pub(super) fn levels(&mut self, graph: &Graph) {
        let kind = |hub: usize| graph.hubs[hub].kind;
        self.level = graph
            .hubs
            .places()
            .filter(|hub| !self.hangs_on.contains_key(hub) && kind(*hub) != HubKind::Dead)
            .map(|hub| (hub, usize::from(kind(hub) != HubKind::Top)))
            .collect();
        let down: Vec<usize> = self.all(Form::Down).collect();
        let most = graph.hubs.len() + 2;
        for _ in 0..most {
            for place in down.iter().copied() {
                let strand = &graph.strands[place];
                let upper = self.level.get(&strand.from).copied().unwrap_or(0);
                if !matches!(kind(strand.to), HubKind::Top | HubKind::Bottom)
                    && let Some(level) = self.level.get_mut(&strand.to)
                {
                    *level = (*level).max(upper + 1).min(most);
                }
            }
            for (hub, row) in &self.row {
                let beside = self.row.iter().filter(|(_, of)| *of == row);
                let level = beside.filter_map(|(other, _)| self.level.get(other)).max().copied();
                if let (Some(own), Some(level)) = (self.level.get_mut(hub), level) {
                    *own = level;
                }
            }
        }
        let last = self.level.values().copied().max().unwrap_or(0) + 1;
        for (hub, level) in &mut self.level {
            if kind(*hub) == HubKind::Bottom {
                *level = last;
            }
        }
    }

    /// One lane for each half of a relay, with the strands that run into it; one for every other strand.
    pub(super) fn lanes(&mut self, graph: &Graph) {
        for hub in self.row.keys().copied().filter(|hub| graph.is_relay(*hub)) {
            for contacts in [false, true] {
                self.lanes.push(Lane { strands: Vec::new(), half: Some((hub, contacts)) });
            }
        }
        for place in self.all(Form::Down).collect::<Vec<_>>() {
            let strand = &graph.strands[place];
            let half = [strand.to, strand.from].into_iter().find(|hub| graph.is_relay(*hub)).map(|hub| {
                let (_, point) = strand.at(hub);
                (hub, on_contacts(graph, hub, point))
            });
            let free = |lane: &Lane| {
                lane.half == half && lane.strands.iter().all(|other| !self.overlap(graph, *other, place))
            };
            let lane = half.and_then(|_| self.lanes.iter().position(free));
            match lane.and_then(|lane| self.lanes.get_mut(lane)) {
                Some(lane) => lane.strands.push(place),
                None => self.lanes.push(Lane { strands: vec![place], half: None }),
            }
        }
    }

    /// Do two strands run beside each other at some height?
    pub(super) fn overlap(&self, graph: &Graph, one: usize, other: usize) -> bool {
        let (from, to) = self.heights(graph, one);
        let (first, last) = self.heights(graph, other);
        from.max(first) < to.min(last)
    }

    /// Levels of a strand's ends.
    pub(crate) fn heights(&self, graph: &Graph, strand: usize) -> (usize, usize) {
        let at = |hub: usize| self.level.get(&hub).copied().unwrap_or(0);
        let strand = &graph.strands[strand];
        (at(strand.from), at(strand.to))
    }
}

/// From the contacts of one relay to the coil of another: that one lies behind.
fn feeds_coil(graph: &Graph, strand: usize) -> bool {
    let strand = &graph.strands[strand];
    let contacts = |hub: usize| on_contacts(graph, hub, strand.at(hub).1);
    let relays = graph.is_relay(strand.from) && graph.is_relay(strand.to) && strand.from != strand.to;
    relays && contacts(strand.from) && !contacts(strand.to)
}

/// Does a wire at this point belong to the relay's contacts rather than to its coil?
pub(crate) fn on_contacts(graph: &Graph, hub: usize, point: usize) -> bool {
    let Some(frame) = graph.hubs[hub].frame() else { return false };
    let frame = &graph.frames.all[frame];
    let contact = frame.contacts.iter().any(|contact| graph.net.parts[*contact].touches(point));
    let coil = frame.coil.is_some_and(|coil| graph.net.parts[coil].touches(point));
    contact && !coil && !frame.coil_ends.contains(&point)
}

fn reaches(below: &BTreeMap<usize, Vec<usize>>, from: usize, to: usize) -> bool {
    let (mut todo, mut seen) = (vec![from], BTreeSet::new());
    while let Some(hub) = todo.pop() {
        if hub == to {
            return true;
        }
        if seen.insert(hub) {
            todo.extend(below.get(&hub).into_iter().flatten().copied());
        }
    }
    false
}

/// The next boxes below a hub.
fn boxes_below(
    below: &BTreeMap<usize, Vec<usize>>,
    boxes: &BTreeMap<usize, usize>,
    from: usize,
) -> BTreeSet<usize> {
    let (mut todo, mut seen, mut found) = (vec![from], BTreeSet::new(), BTreeSet::new());
    while let Some(hub) = todo.pop() {
        for next in below.get(&hub).into_iter().flatten().copied() {
            if boxes.contains_key(&next) {
                if next != from {
                    found.insert(next);
                }
            } else if seen.insert(next) {
                todo.push(next);
            }
        }
    }
    found
}
