//! Heights: the longest path over what each strand shows.

use std::collections::BTreeMap;

use super::across::{self, ports};
use super::item::{Density, Given, Item, Run, What, has_lead, items, length, radius};
use super::{Layout, Rect};
use crate::columns::{Form, on_contacts};
use crate::graph::HubKind;
use crate::graph::frame::FrameKind;
use crate::known::SUSPECT;
use crate::picture::Look;
use crate::plan::Sheet;
use crate::text;

/// A drawing isn't lower than this: targets want room.
const LEAST: f64 = 320.0;
/// Rail that is a bar alone: from the sheet's edge.
const BAR: f64 = 31.0;
/// Height of a relay's box.
const RELAY: f64 = 92.0;
/// Width of a box that hangs on another.
const HANGING: f64 = 92.0;
/// Rounds of the longest path.
const ROUNDS: usize = 16;

/// One way to fold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Step {
    pub level: u32,
    /// Hubs don't keep the heights they have when nothing is read.
    pub free: bool,
}

impl Step {
    fn density(self) -> Density {
        let rings = match self.level {
            0 => 28.0,
            1 | 2 => 16.0,
            _ => 0.0,
        };
        Density {
            rings,
            grouped: self.level >= 4,
            folded: self.level >= 1,
            quiet: self.level >= 5,
            bare: self.level >= 5,
            tight: match self.level {
                0..=3 => 0.0,
                4 | 5 => 4.0,
                _ => 6.0,
            },
            merged: self.level >= 7,
            shrunk: self.level >= 2,
        }
    }

    fn gap(self) -> f64 {
        if self.level < 4 { 6.0 } else { 3.0 }
    }
}

/// Heights of hubs when nothing is read, and the top rail's.
pub(crate) type Rest = (BTreeMap<usize, f64>, f64);

/// The layout at one step of folding.
pub(crate) fn layout(sheet: &Sheet, given: Given<'_>, width: f64, step: Step, rest: Option<&Rest>) -> Layout {
    let mut pack = Pack { sheet, given, step, out: Layout { width, folded: step.level, ..Layout::default() } };
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

struct Pack<'p> {
    sheet: &'p Sheet,
    given: Given<'p>,
    step: Step,
    out: Layout,
}

impl Pack<'_> {
    fn level(&self) -> u32 {
        self.step.level
    }

    fn row(&self, run: Run) -> Option<Vec<Item>> {
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

    fn rails(&mut self) {
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

    fn strands(&mut self) {
        for strand in self.sheet.columns.forms.keys().copied() {
            let mut run = items(self.given, Run::Strand(strand), self.step.density());
            if self.sheet.columns.is(strand, Form::Across) {
                run.retain(|item| !item.is_symbol() || item.suspect() || !item.idle);
            }
            if self.sheet.columns.is(strand, Form::Down) && self.is_stub(strand, &run) {
                self.out.stubs.insert(strand);
            }
            self.out.items.insert(strand, run);
        }
    }

    /// A branch from or to a rail with nothing left to say, or (at the last step) without lead and bad reading.
    fn is_stub(&self, place: usize, run: &[Item]) -> bool {
        let graph = self.given.graph;
        let strand = &graph.strands[place];
        let others = |hub: usize, from: bool| {
            let at = |other: usize| if from { graph.strands[other].from } else { graph.strands[other].to };
            let beside = self.sheet.columns.all(Form::Down).filter(|other| at(*other) == hub && !self.out.stubs.contains(other));
            graph.hubs[hub].kind != HubKind::Splice || beside.count() > 1
        };
        let rail = strand.from == graph.top_hub || strand.to == graph.bottom_hub;
        if self.level() < 2 || strand.slots.is_empty() || !rail || !others(strand.from, true) || !others(strand.to, false)
        {
            return false;
        }
        let known = self.given.known;
        let quiet = !strand.points.iter().enumerate().any(|(at, point)| {
            let end = at == 0 || at + 1 == strand.points.len();
            let bar = end && !self.ends_in_box(place, at == 0);
            !bar && known.matters(*point)
        }) && !run.iter().any(|item| matches!(item.what, What::Span(_)));
        if self.level() >= 6 && quiet {
            return true;
        }
        let out = |item: &Item| match item.what {
            What::Wire => item.look == Look::RuledOut || item.idle,
            What::Symbol => item.look == Look::RuledOut && !item.suspect(),
            What::Mark(point) => {
                !has_lead(self.given, item) && (!known.read.contains_key(&point) || (self.level() >= 3 && !known.matters(point)))
            }
            What::Ring(_) => true,
            What::Disc | What::Span(_) | What::Capsule => false,
        };
        run.iter().all(out) && run.iter().any(|item| item.look == Look::RuledOut)
    }

    fn ends_in_box(&self, strand: usize, first: bool) -> bool {
        let strand = &self.given.graph.strands[strand];
        self.given.graph.is_frame(if first { strand.from } else { strand.to })
    }

    /// Wires between two relays run in a U below both.
    fn below(&mut self) {
        let graph = self.given.graph;
        for place in self.sheet.columns.all(Form::Gutter) {
            let strand = &graph.strands[place];
            if !graph.is_relay(strand.from) || !graph.is_relay(strand.to) {
                continue;
            }
            let run = self.out.items.get(&place).map(Vec::as_slice).unwrap_or_default();
            let read = run.iter().any(|item| matches!(item.what, What::Mark(point) if point == strand.first() || point == strand.last()));
            let depth = (most_radius(run).max(16.0) + if read { 40.0 } else { 18.0 }).max(46.0);
            self.out.below.insert(place, depth);
        }
    }

    fn boxes(&mut self) {
        let columns = across::columns(self.sheet, self.out.width);
        let mut tallest: BTreeMap<usize, f64> = BTreeMap::new();
        for hub in self.sheet.standing.iter().copied() {
            let lines = self.given.speech.frame(self.given.graph.hubs[hub].frame().unwrap_or(usize::MAX));
            let (left, right) = pads(self.sheet, hub);
            let name = if self.given.graph.is_relay(hub) { 0.0 } else { text::widest(&lines, text::NAME) + left + right };
            let mut rect = across::box_of(self.sheet, hub, &columns, (self.out.width, name));
            self.round_discs(hub, &columns, &mut rect);
            rect.height = self.box_height(hub, rect.width);
            let row = self.sheet.columns.row.get(&hub).copied().unwrap_or(0);
            let most = tallest.entry(row).or_insert(0.0);
            *most = most.max(rect.height);
            self.out.boxes.insert(hub, rect);
        }
        for (hub, rect) in &mut self.out.boxes {
            let row = self.sheet.columns.row.get(hub).copied().unwrap_or(0);
            rect.height = tallest.get(&row).copied().unwrap_or(rect.height);
        }
        self.out.columns = columns;
    }

    /// A relay's box holds the discs on its coil and its contact.
    fn round_discs(&self, hub: usize, columns: &[f64], rect: &mut Rect) {
        if !self.given.graph.is_relay(hub) {
            return;
        }
        let (mut left, mut right) = (rect.x, rect.right());
        for (share, contacts) in relay_shares(self.given, hub).into_iter().zip([false, true]) {
            let radius = suspect_radius(share);
            let x = columns.get(self.sheet.columns.half(hub, contacts)).copied().unwrap_or(left + radius);
            if radius > 0.0 {
                (left, right) = (left.min(x - radius - 2.0), right.max(x + radius + 2.0));
            }
        }
        (rect.x, rect.width) = (left.max(1.0), right.min(self.out.width - 1.0) - left.max(1.0));
    }

    fn box_height(&self, hub: usize, width: f64) -> f64 {
        let graph = self.given.graph;
        let Some(frame) = graph.hubs[hub].frame() else { return 0.0 };
        let frame = &graph.frames.all[frame];
        let share = inner_share(self.given, hub);
        let (ports, rows) = ports(self.sheet, hub);
        let pitch = ports.iter().map(|port| self.pitch(port.strand)).fold(0.0, f64::max);
        let gutter = self.sheet.columns.all(Form::Gutter).chain(self.sheet.columns.all(Form::Across)).filter(|strand| {
            let strand = &graph.strands[*strand];
            strand.meets(hub) && strand.from != strand.to && !(graph.is_relay(strand.from) && graph.is_relay(strand.to))
        });
        let beside = gutter
            .filter(|strand| !ports.iter().any(|port| port.strand == *strand))
            .map(|strand| {
                let across = self.sheet.columns.is(strand, Form::Across) && self.length(strand) > 90.0;
                self.length(strand) + if across { 32.0 } else { 0.0 }
            })
            .fold(0.0, f64::max)
            .min(250.0);
        let own = match frame.kind {
            FrameKind::Relay => {
                let halves = relay_shares(self.given, hub);
                halves.into_iter().map(|share| 2.0 * suspect_radius(share) + 50.0).fold(RELAY, f64::max)
            }
            _ => {
                let lines = frame_lines(self.given, hub, width - 10.0 - pads(self.sheet, hub).0 - pads(self.sheet, hub).1);
                let (wide, tall) = (text::widest(&lines, 15.5), lines.len() as f64 * 17.0);
                let disc = 2.0 * suspect_radius(share);
                let inner = if disc <= 0.0 {
                    tall
                } else if wide + disc + 10.0 <= width - pads(self.sheet, hub).0 - pads(self.sheet, hub).1 {
                    tall.max(disc)
                } else {
                    tall + disc + 2.0
                };
                let pins = |above: bool| {
                    let ends = self.sheet.columns.all(Form::Down).any(|strand| {
                        let strand = &graph.strands[strand];
                        if above { strand.to == hub } else { strand.from == hub }
                    });
                    if ends { 21.0 } else { 7.0 }
                };
                (inner + pins(true) + pins(false)).max(52.0)
            }
        };
        own.max(rows as f64 * pitch + 14.0).max(beside)
    }

    /// Room between two rows on a box's right side.
    fn pitch(&self, strand: usize) -> f64 {
        let run = self.out.items.get(&strand).map(Vec::as_slice).unwrap_or_default();
        let round = self.sheet.columns.is(strand, Form::Loop);
        let least = if round { 54.0 } else { 48.0 };
        let disc = run.iter().filter(|item| item.suspect() && (round || !item.is_symbol())).map(|item| {
            2.0 * radius(item.share) + if round && item.is_symbol() { 30.0 } else { 6.0 }
        });
        disc.fold(least, f64::max)
    }

    fn length(&self, strand: usize) -> f64 {
        let run = self.out.items.get(&strand).map(Vec::as_slice).unwrap_or_default();
        run.iter().filter(|item| item.shown()).map(|item| item.room + self.step.gap()).sum::<f64>() + 6.0
    }

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
            let boxes = usize::from(self.ends_in_box(place, true)) + usize::from(self.ends_in_box(place, false));
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
        y.insert(bottom, y.get(&bottom).copied().unwrap_or(0.0).min(if bottom_free { 0.0 } else { f64::INFINITY }));
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

    fn hanging(&mut self) {
        for (hub, on) in &self.sheet.columns.hangs_on {
            let Some(rect) = self.out.boxes.get(on).copied() else { continue };
            let (ports, rows) = ports(self.sheet, *on);
            let own = ports.iter().filter(|port| self.given.graph.strands[port.strand].meets(*hub));
            let own: Vec<usize> = own.map(|port| port.row).collect();
            let pitch = rect.height / rows.max(1) as f64;
            let first = own.iter().min().copied().unwrap_or(0) as f64;
            let last = own.iter().max().copied().unwrap_or(0) as f64 + 1.0;
            let hanging = Rect {
                x: self.out.width - 6.0 - HANGING,
                y: rect.y + first * pitch + 2.0,
                width: HANGING,
                height: (last - first) * pitch - 4.0,
            };
            self.out.boxes.insert(*hub, hanging);
        }
    }
}

/// Room inside a box that pin numbers take on its left and right side.
pub(crate) fn pads(sheet: &Sheet, hub: usize) -> (f64, f64) {
    let (mut left, mut right) = (6.0, 6.0);
    if sheet.columns.hangs_on.contains_key(&hub) {
        left = 20.0;
    }
    if ports(sheet, hub).1 > 0 {
        right = 20.0;
    }
    let graph = &sheet.graph;
    for strand in sheet.columns.all(Form::Across).chain(sheet.columns.all(Form::Gutter)) {
        let strand = &graph.strands[strand];
        let other = strand.beyond(hub);
        if !strand.meets(hub) || other == hub {
            continue;
        }
        match (sheet.columns.span(graph, hub), sheet.columns.span(graph, other)) {
            (Some(own), Some(other)) if other.0 < own.0 => left = 20.0,
            (Some(_), Some(_)) => right = 20.0,
            _ => {}
        }
    }
    (left, right)
}

/// Name of a box: on one line where it fits.
pub(crate) fn frame_lines(given: Given<'_>, hub: usize, width: f64) -> Vec<String> {
    let lines = given.speech.frame(given.graph.hubs[hub].frame().unwrap_or(usize::MAX));
    let one = lines.join(" ");
    let share = suspect_radius(inner_share(given, hub)) * 2.0;
    if text::width(&one, text::NAME) + share <= width { vec![one] } else { lines }
}

/// Likelihood of a relay's coil, and of its contacts.
pub(crate) fn relay_shares(given: Given<'_>, hub: usize) -> [f64; 2] {
    let Some(frame) = given.graph.hubs[hub].frame() else { return [0.0; 2] };
    let frame = &given.graph.frames.all[frame];
    let of = |parts: &[usize]| parts.iter().map(|part| given.known.share[*part]).sum();
    [of(frame.coil.as_slice()), of(&frame.contacts)]
}

/// Radius of a disc; none where nothing is suspected.
pub(crate) fn suspect_radius(share: f64) -> f64 {
    if share > SUSPECT { radius(share) } else { 0.0 }
}

/// Likelihood of what lies inside a box without symbols of its own.
pub(crate) fn inner_share(given: Given<'_>, hub: usize) -> f64 {
    let Some(frame) = given.graph.hubs[hub].frame() else { return 0.0 };
    let frame = &given.graph.frames.all[frame];
    let drawn = |part: &usize| frame.is_relay() && (frame.coil == Some(*part) || frame.contacts.contains(part));
    frame.parts.iter().filter(|part| !drawn(part)).map(|part| given.known.share[*part]).sum()
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

fn most_radius(row: &[Item]) -> f64 {
    row.iter().filter(|item| item.suspect()).map(|item| radius(item.share)).fold(0.0, f64::max)
}

/// Height of a rail; `disc`: likelihood of what stands on the bar itself.
fn row_height(row: Option<&[Item]>, disc: f64) -> f64 {
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

/// Column of a wire's end at a relay.
pub(crate) fn relay_column(sheet: &Sheet, hub: usize, point: usize) -> usize {
    sheet.columns.half(hub, on_contacts(&sheet.graph, hub, point))
}
