//! What has no place in the drawing: never nothing.

use std::collections::BTreeSet;

use super::scene::Scene;
use crate::known::SUSPECT;
use crate::picture::Listed;

impl Scene<'_> {
    /// Leads, readings and suspects that weren't drawn; branches without a column; leads and spare parts that are on.
    pub(super) fn list(&mut self) {
        let graph = self.graph();
        let known = self.known();
        let mut listed = Vec::new();
        for (point, lead) in &known.leads {
            if !self.placed.contains_key(point) {
                listed.push(Listed {
                    points: vec![self.point_id(*point)],
                    name: self.speech().whole_point(*point),
                    lead: Some(*lead),
                    ..Listed::default()
                });
            }
        }
        let beads: BTreeSet<String> =
            self.picture.beads.iter().map(|bead| bead.observation.clone()).collect();
        for (point, read) in &known.read {
            if !beads.contains(&read.id) {
                listed.push(Listed {
                    points: vec![self.point_id(*point)],
                    name: self.speech().whole_point(*point),
                    text: self.bead_text(read),
                    judged: read.judged,
                    observation: read.id.clone(),
                    ..Listed::default()
                });
            }
        }
        for span in &known.spans {
            if !beads.contains(&span.read.id) {
                listed.push(Listed {
                    points: vec![self.point_id(span.red), self.point_id(span.black)],
                    name: format!(
                        "{} – {}",
                        self.speech().whole_point(span.red),
                        self.speech().whole_point(span.black)
                    ),
                    text: self.bead_text(&span.read),
                    judged: span.read.judged,
                    observation: span.read.id.clone(),
                    ..Listed::default()
                });
            }
        }
        let suspects: BTreeSet<&str> =
            self.picture.discs.iter().flat_map(|disc| disc.parts.iter().map(String::as_str)).collect();
        for part in graph.net.parts.places() {
            let (share, id) = (known.share[part], &graph.net.parts[part].id);
            if share > SUSPECT && !suspects.contains(id.as_str()) {
                listed.push(Listed {
                    parts: vec![id.clone()],
                    name: self.speech().whole_part(part),
                    share,
                    ..Listed::default()
                });
            }
        }
        self.picture.listed = listed;
        let out = self.sheet.left_out.iter().flat_map(|slot| graph.slots[*slot].parts.iter().copied());
        let out: Vec<usize> = out.filter(|part| graph.net.parts[*part].usual).collect();
        self.picture.left_out = self.part_ids(&out);
        let aids = graph.net.parts.places().filter(|part| {
            let spec = &graph.net.parts[*part];
            !spec.usual && spec.odds == 0.0 && known.present[*part]
        });
        let shown: BTreeSet<&str> =
            self.picture.symbols.iter().filter_map(|symbol| symbol.replaced_by.as_deref()).collect();
        let aids: Vec<usize> =
            aids.filter(|part| !shown.contains(graph.net.parts[*part].id.as_str())).collect();
        self.picture.aids = self.part_ids(&aids);
    }
}
