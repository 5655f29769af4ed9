//! A circuit's drawing without its heights, kept and used again for every reading.

use std::collections::BTreeSet;

use circuit::{Circuit, Diagnosis, State};

use crate::known::{Facts, Known, SUSPECT};
use crate::layout::fitted;
use crate::layout::hosts::hosts;
use crate::layout::item::Given;
use crate::picture::{Lead, Listed, Picture};
use crate::place::draw;
use crate::sheet::Sheet;
use crate::words::{Language, Speech};

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

    /// The drawing while nothing is known of the circuit.
    #[must_use]
    pub fn blank(&self, circuit: &Circuit, language: Language, width: f64) -> Picture {
        let (diagnosis, state) = (Diagnosis::default(), State::default());
        let facts = Facts { diagnosis: &diagnosis, observations: &[], state: &state, next: None };
        self.draw(circuit, &facts, language, width)
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
