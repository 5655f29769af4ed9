//! Branches that are folded away.

use super::scene::{Owner, Scene, Sort, Waiting, around, round};
use crate::graph::net::Kind;
use crate::known::SUSPECT;
use crate::layout::item::radius;
use crate::picture::{Look, Stub};

impl Scene<'_> {
    pub(super) fn stub(&mut self, strand: usize, x: f64, from: f64, to: f64) {
        let graph = self.graph();
        let spec = &graph.strands[strand];
        let run = self.layout.items.get(&strand).map(Vec::as_slice).unwrap_or_default();
        let share: f64 = run.iter().map(|item| item.share).sum();
        let suspects: Vec<usize> = run.iter().flat_map(|item| item.suspects.iter().copied()).collect();
        // A branch that starts at a box below stays with it.
        let up = spec.from == graph.top_hub && spec.to != graph.bottom_hub && !graph.is_frame(spec.to);
        let (start, way) = if up { (to, -1.0) } else { (from, 1.0) };
        let room = if share > SUSPECT { 2.0 * radius(share) - 6.0 } else { 0.0 };
        let tip = start + way * (28.0 + room);
        let color = self.color_of(&spec.slots);
        self.wire(&[(x, start), (x, tip)], Look::Plain, color, &spec.slots);
        if share > SUSPECT {
            self.disc(x, start + way * (radius(share) + 4.0), share, &suspects, Owner::Nobody);
        }
        let parts = self.in_slots(&spec.slots);
        let ids = self.part_ids(&parts);
        self.picture.stubs.push(Stub { x: round(x), y: round(tip), up, parts: ids });
        self.take(around(x, tip - way * 5.0, 18.0, 12.0), Sort::Stub, Owner::Nobody);
        let weight = |slot: usize| match graph.net.parts[graph.slots[slot].usual()].kind {
            Kind::Lamp | Kind::Motor | Kind::Resistor | Kind::ModuleLoad | Kind::Draw | Kind::Thermistor => 4,
            Kind::Switch => 3,
            Kind::Fuse => 2,
            Kind::Wire => 1,
            _ => 0,
        };
        let main = spec.slots.iter().copied().max_by_key(|slot| weight(*slot));
        let mut lines = main.map(|slot| self.speech().part(graph.slots[slot].usual())).unwrap_or_default();
        if spec.slots.len() > 1
            && let Some(last) = lines.last_mut()
        {
            last.push_str(&format!(" +{}", spec.slots.len().saturating_sub(1)));
        }
        self.waiting.push(Waiting {
            lines,
            look: Look::RuledOut,
            parts,
            owner: Owner::Nobody,
            x,
            y: tip - way * 6.0,
            half: (9.0, 8.0),
            disc: None,
            first: Vec::new(),
            only: false,
            early: true,
        });
    }
}
