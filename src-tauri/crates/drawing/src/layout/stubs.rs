//! What is drawn of each strand, and which branches fold away.

use super::item::{Item, Run, What, has_lead};
use super::on_run::items;
use super::pack::Pack;
use super::rows::most_radius;
use crate::columns::Form;
use crate::graph::HubKind;
use crate::picture::Look;

impl Pack<'_> {
    pub(super) fn strands(&mut self) {
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
    pub(super) fn is_stub(&self, place: usize, run: &[Item]) -> bool {
        let graph = self.given.graph;
        let strand = &graph.strands[place];
        let others = |hub: usize, from: bool| {
            let at = |other: usize| if from { graph.strands[other].from } else { graph.strands[other].to };
            let beside = self
                .sheet
                .columns
                .all(Form::Down)
                .filter(|other| at(*other) == hub && !self.out.stubs.contains(other));
            graph.hubs[hub].kind != HubKind::Splice || beside.count() > 1
        };
        let rail = strand.from == graph.top_hub || strand.to == graph.bottom_hub;
        if self.level() < 2
            || strand.slots.is_empty()
            || !rail
            || !others(strand.from, true)
            || !others(strand.to, false)
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
                !has_lead(self.given, item)
                    && (!known.read.contains_key(&point) || (self.level() >= 3 && !known.matters(point)))
            }
            What::Ring(_) => true,
            What::Disc | What::Span(_) | What::Capsule => false,
        };
        run.iter().all(out) && run.iter().any(|item| item.look == Look::RuledOut)
    }

    pub(super) fn ends_in_box(&self, strand: usize, first: bool) -> bool {
        let strand = &self.given.graph.strands[strand];
        self.given.graph.is_frame(if first { strand.from } else { strand.to })
    }

    /// Wires between two relays run in a U below both.
    pub(super) fn below(&mut self) {
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
}
