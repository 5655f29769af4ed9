//! A circuit's drawing without its heights, kept and used again for every reading.

use std::collections::BTreeSet;

use circuit::Circuit;

use crate::columns::{CROSSED, Columns};
use crate::graph::{Graph, HubKind};
use crate::known::{Facts, Known, SUSPECT};
use crate::layout::fitted;
use crate::layout::hosts::hosts;
use crate::layout::item::Given;
use crate::picture::{Lead, Listed, Picture};
use crate::place::draw;
use crate::words::{Language, Speech};

/// Branches that are left out at most so that the others fit.
const MOST_LEFT_OUT: usize = 12;

/// Hubs, strands and columns of one circuit: everything that doesn't depend on readings.
#[derive(Debug, Clone)]
pub(crate) struct Sheet {
    pub graph: Graph,
    pub columns: Columns,
    /// Boxes that stand in columns.
    pub standing: Vec<usize>,
    /// Slots that found no place.
    pub left_out: BTreeSet<usize>,
}

impl Sheet {
    /// Nothing for a circuit without a battery, or if no order of columns was found: then there is a list of points.
    pub fn of(circuit: &Circuit, keep: &BTreeSet<String>) -> Option<Self> {
        let mut left_out = BTreeSet::new();
        let mut found: Option<Self> = None;
        for _ in 0..MOST_LEFT_OUT {
            let graph = Graph::of(circuit, &left_out)?;
            let spare = spare_branch(&graph, keep);
            for stacked in [false, true] {
                let mut graph = graph.clone();
                let cost = found.as_ref().map_or(f64::INFINITY, |best| best.columns.cost);
                if cost >= CROSSED
                    && let Some(columns) = Columns::of(&mut graph, stacked)
                    && columns.cost < cost - CROSSED.min(cost / 2.0)
                {
                    let standing = columns.standing(&graph);
                    found = Some(Self { graph, columns, standing, left_out: left_out.clone() });
                }
            }
            let crossed = found.as_ref().is_none_or(|best| best.columns.cost >= CROSSED);
            let Some(spare) = spare.filter(|_| crossed) else { break };
            left_out.extend(spare);
        }
        found
    }
}

/// The branch with the least prior odds whose loss leaves all others in place, unless something on it must be seen.
fn spare_branch(graph: &Graph, keep: &BTreeSet<String>) -> Option<Vec<usize>> {
    let kept = |point: usize| keep.contains(&graph.net.points[point].id);
    let needed =
        |slot: &usize| graph.slots[*slot].parts.iter().any(|part| keep.contains(&graph.net.parts[*part].id));
    let singles = graph.strands.places().map(|strand| vec![strand]);
    let branches = singles.filter(|strands| {
        strands.iter().all(|place| {
            let strand = &graph.strands[*place];
            let alone = strands.len() == 1;
            let bars = [strand.from, strand.to].iter().all(|hub| !graph.is_frame(*hub));
            let inner = strand.points.iter().skip(1).take(strand.points.len().saturating_sub(2));
            let firm = [(strand.from, false), (strand.to, true)].iter().all(|(hub, above)| {
                let center = !alone && strands.iter().all(|other| graph.strands[*other].meets(*hub));
                center || carried(graph, strands, *hub, *above)
            });
            (bars || !alone)
                && firm
                && !strand.slots.is_empty()
                && !inner.copied().any(kept)
                && !strand.slots.iter().any(needed)
        })
    });
    let odds = |strands: &Vec<usize>| {
        let slots = strands.iter().flat_map(|strand| &graph.strands[*strand].slots);
        slots.map(|slot| graph.odds(*slot)).sum::<f64>()
    };
    let least = branches.min_by(|one, other| odds(one).total_cmp(&odds(other)))?;
    Some(least.iter().flat_map(|strand| graph.strands[*strand].slots.iter().copied()).collect())
}

/// Does a hub keep a strand above (or below) it without these?
fn carried(graph: &Graph, without: &[usize], hub: usize, above: bool) -> bool {
    let rail = matches!(graph.hubs[hub].kind, HubKind::Top | HubKind::Bottom | HubKind::Frame(_));
    let ends = |place: usize| if above { graph.strands[place].to } else { graph.strands[place].from };
    rail || graph.strands.places().any(|place| !without.contains(&place) && ends(place) == hub)
}

/// A circuit's drawing without its heights: made once, used again for every reading.
#[derive(Debug, Clone)]
pub struct Plan {
    sheet: Option<Sheet>,
}

/// Width of the drawing on a phone held upright.
pub const UPRIGHT: f64 = 366.0;
/// Width of the drawing on a phone held sideways.
pub const WIDE: f64 = 488.0;

impl Plan {
    /// Looks for columns: milliseconds, up to a tenth of a second for large circuits.
    #[must_use]
    pub fn of(circuit: &Circuit) -> Self {
        Self { sheet: Sheet::of(circuit, &BTreeSet::new()) }
    }

    /// The drawing of this circuit with what is known of it. `circuit` is the one that the plan was made of.
    #[must_use]
    pub fn draw(&self, circuit: &Circuit, facts: &Facts<'_>, language: Language, width: f64) -> Picture {
        let Some(sheet) = &self.sheet else { return list_of_all(circuit, facts, language, width) };
        let picture = drawn(sheet, circuit, facts, language, width);
        let keep: BTreeSet<String> = picture
            .listed
            .iter()
            .filter(|listed| listed.lead.is_some() || listed.judged.is_bad() || listed.share > 0.0)
            .flat_map(|listed| listed.points.iter().chain(&listed.parts).cloned())
            .collect();
        if sheet.left_out.is_empty() || keep.is_empty() {
            return picture;
        }
        // A branch that was left out matters now.
        let other = Sheet::of(circuit, &keep).map(|sheet| drawn(&sheet, circuit, facts, language, width));
        other.filter(|other| other.listed.len() < picture.listed.len()).unwrap_or(picture)
    }
}

fn drawn(sheet: &Sheet, circuit: &Circuit, facts: &Facts<'_>, language: Language, width: f64) -> Picture {
    let graph = &sheet.graph;
    let known = Known::of(&graph.net, circuit, facts);
    let speech = Speech::new(circuit, graph, language);
    let hosts = hosts(graph, &sheet.columns, &known);
    let given = Given { graph, known: &known, speech: &speech, hosts: &hosts };
    let layout = fitted(sheet, given, width);
    draw(sheet, given, circuit, &layout)
}

/// Where nothing can be drawn: every point with what was read there, every suspect.
fn list_of_all(circuit: &Circuit, facts: &Facts<'_>, language: Language, width: f64) -> Picture {
    let mut picture = Picture { width, ..Picture::default() };
    let say = |text: &circuit::Text| match language {
        Language::English => text.en.clone(),
        Language::Spanish => text.es.clone(),
    };
    let test = circuit.tests.iter().find(|test| facts.next == Some(test.id.as_str()));
    for point in circuit.points.iter().filter(|point| point.reachable) {
        let on = |lead: &Option<String>| lead.as_deref() == Some(point.id.as_str());
        let lead = match test {
            Some(test) if on(&test.red) => Some(Lead::Red),
            Some(test) if on(&test.black) => Some(Lead::Black),
            _ => None,
        };
        let seen = facts.observations.iter().rev().find(|seen| on(&seen.red));
        let text = seen.and_then(crate::known::text_of).unwrap_or_default();
        picture.listed.push(Listed {
            points: vec![point.id.clone()],
            name: say(&point.name),
            text,
            lead,
            observation: seen.map(|seen| seen.id.clone()).unwrap_or_default(),
            ..Listed::default()
        });
    }
    for part in &circuit.components {
        let causes = facts.diagnosis.causes.iter().filter(|cause| cause.component == part.id);
        let share: f64 = causes.map(|cause| cause.probability).sum();
        if share > SUSPECT {
            picture.listed.push(Listed {
                parts: vec![part.id.clone()],
                name: say(&part.name),
                share,
                ..Listed::default()
            });
        }
    }
    picture
}
