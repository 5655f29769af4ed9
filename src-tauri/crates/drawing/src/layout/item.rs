//! What is drawn of a series run.

use crate::graph::Graph;
use crate::graph::net::Kind;
use crate::known::{Against, Known, Read, SUSPECT};
use crate::picture::Look;
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
    pub(super) fn at_bar(self, graph: &Graph, place: usize) -> bool {
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

/// Radius of a disc; none where nothing is suspected.
pub(crate) fn suspect_radius(share: f64) -> f64 {
    if share > SUSPECT { radius(share) } else { 0.0 }
}
