//! What is drawn of a series run.

use super::dense::{group, merge, rings, spans};
use super::homes::Homes;
use crate::graph::Graph;
use crate::graph::net::Kind;
use crate::known::{Against, Known, Read, SUSPECT};
use crate::picture::{Judged, Look};
use crate::text::{self, NAME, VALUE};
use crate::words::Speech;

/// One thing on a run.
#[derive(Debug, Clone, Default)]
pub(crate) struct Item {
    pub what: What,
    /// Home on the run, 0 to 1.
    pub at: f64,
    /// Height that it takes; 0 = a piece of wire.
    pub room: f64,
    /// Likelihood of its suspects.
    pub share: f64,
    /// The suspects.
    pub suspects: Vec<usize>,
    /// Slots that it stands for.
    pub slots: Vec<usize>,
    pub look: Look,
    /// Nothing at all can be wrong with it.
    pub idle: bool,
    pub label: Vec<String>,
}

/// Sort of thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum What {
    #[default]
    Wire,
    Symbol,
    Disc,
    /// A point with what was read there.
    Mark(usize),
    /// A point between two symbols where nothing is known.
    Ring(usize),
    /// A reading between two points, by its number.
    Span(usize),
    Capsule,
}

impl Item {
    pub fn shown(&self) -> bool {
        self.room > 0.0
    }

    pub fn suspect(&self) -> bool {
        self.share > SUSPECT
    }

    pub fn is_symbol(&self) -> bool {
        self.what == What::Symbol
    }
}

/// Everything a run is drawn from.
#[derive(Clone, Copy)]
pub(crate) struct Given<'g> {
    pub graph: &'g Graph,
    pub known: &'g Known,
    pub speech: &'g Speech<'g>,
    /// Where each reading between two points is drawn.
    pub hosts: &'g [Option<Host>],
}

/// The run on which a reading between two points is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Host {
    pub run: Run,
    /// Both its points lie there.
    pub whole: bool,
}

/// A series run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Run {
    Strand(usize),
    Top,
    Bottom,
}

/// How densely a run is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Density {
    /// Height of a ring between two symbols; 0 = none.
    pub rings: f64,
    /// Suspects between two marks are one disc.
    pub grouped: bool,
    /// Proven runs fold.
    pub folded: bool,
    /// Good readings away from the next test don't show.
    pub quiet: bool,
    /// Symbols that are ruled out shrink.
    pub shrunk: bool,
    /// Between two marks one symbol stands for all.
    pub merged: bool,
    /// Everything stands closer by so much.
    pub tight: f64,
    /// Symbols that are ruled out are part of the dotted wire.
    pub bare: bool,
}

/// Radius of a suspect's disc.
pub(crate) fn radius(share: f64) -> f64 {
    (38.0 * share.max(0.0).sqrt()).max(14.0)
}

/// Width and height of a symbol, current running down.
pub(crate) const fn size(kind: Kind) -> (f64, f64) {
    match kind {
        Kind::Fuse => (18.0, 30.0),
        Kind::Switch | Kind::Contact => (16.0, 32.0),
        Kind::Lamp | Kind::Motor => (32.0, 32.0),
        Kind::Diode => (22.0, 22.0),
        Kind::Coil | Kind::PickUp => (26.0, 34.0),
        _ => (22.0, 32.0),
    }
}

impl Run {
    pub fn slots(self, graph: &Graph) -> &[usize] {
        match self {
            Self::Strand(strand) => &graph.strands[strand].slots,
            Self::Top => &graph.top.slots,
            Self::Bottom => &graph.bottom.slots,
        }
    }

    pub fn points(self, graph: &Graph) -> &[usize] {
        match self {
            Self::Strand(strand) => &graph.strands[strand].points,
            Self::Top => &graph.top.points,
            Self::Bottom => &graph.bottom.points,
        }
    }

    /// Is a point of this run drawn by the hub at its end?
    fn at_bar(self, graph: &Graph, place: usize) -> bool {
        let last = self.points(graph).len().saturating_sub(1);
        match self {
            Self::Strand(strand) => {
                let strand = &graph.strands[strand];
                (place == 0 && !graph.is_frame(strand.from)) || (place == last && !graph.is_frame(strand.to))
            }
            _ => place == 0 || place == last,
        }
    }
}

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
        items = super::capsule::folded(given, items);
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

/// Width of a reading's pill.
pub(crate) fn bead_width(given: Given<'_>, read: &Read) -> f64 {
    let arrow = if read.judged.is_bad() { 20.0 } else { 0.0 };
    (text::width(&bead_text(given, read), VALUE) + 22.0 + arrow).max(46.0)
}

/// What a reading is written as: volts against the negative post are numbers alone.
pub(crate) fn bead_text(given: Given<'_>, read: &Read) -> String {
    match read.against {
        Against::Minus if read.unit == "V" => read.number.clone(),
        Against::Plus if read.unit == "V" => given.speech.against_plus(&read.number),
        _ => format!("{} {}", read.number, read.unit),
    }
}

/// Room of a thing along its path.
pub(crate) fn length(given: Given<'_>, item: &Item, sideways: bool) -> f64 {
    if !sideways {
        return item.room;
    }
    match item.what {
        What::Symbol => {
            let disc = if item.suspect() { 2.0 * radius(item.share) } else { 0.0 };
            (text::widest(&item.label, NAME) + 6.0).max(42.0).max(disc)
        }
        What::Mark(point) => {
            let lead = given.known.leads.contains_key(&point);
            match given.known.read.get(&point) {
                Some(read) => bead_width(given, read) + if lead { 28.0 } else { 4.0 },
                None => 28.0,
            }
        }
        What::Span(number) => {
            given.known.spans.get(number).map_or(0.0, |span| bead_width(given, &span.read) + 4.0)
        }
        What::Ring(_) => 16.0,
        What::Capsule => 100.0,
        What::Disc | What::Wire => item.room,
    }
}

pub(crate) fn has_lead(given: Given<'_>, item: &Item) -> bool {
    matches!(item.what, What::Mark(point) if given.known.leads.contains_key(&point))
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
