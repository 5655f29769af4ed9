//! What is known of each part and point, from the engine's answer and the readings.

mod judge;
mod proof;
mod read;

use std::collections::{BTreeMap, BTreeSet};

use circuit::{Circuit, ComponentKind, Conditions, Diagnosis, Observation, State};

pub(crate) use read::{Against, Read, Span, text_of};

use crate::graph::net::Net;
use crate::picture::{Judged, Lead, Look};
use crate::table::Table;

/// Likelihood from which a part is drawn as a suspect.
pub(crate) const SUSPECT: f64 = 0.03;

/// What a drawing is made from, beside the circuit.
#[derive(Debug, Clone, Copy)]
pub struct Facts<'f> {
    /// The engine's answer to the observations.
    pub diagnosis: &'f Diagnosis,
    /// What was seen, in order of time.
    pub observations: &'f [Observation],
    /// The state that is shown: variables left out take their default.
    pub state: &'f State,
    /// The test that is next.
    pub next: Option<&'f str>,
}

/// What is known of each part and point.
#[derive(Debug, Clone, Default)]
pub(crate) struct Known {
    /// Likelihood of each part.
    pub share: Table<f64>,
    pub look: Table<Look>,
    /// What is shown at each point.
    pub read: BTreeMap<usize, Read>,
    /// Points at which a reading in any state is bad: what folds doesn't hang on the key.
    pub bad: BTreeSet<usize>,
    /// Readings between two points that aren't posts of the battery.
    pub spans: Vec<Span>,
    pub leads: BTreeMap<usize, Lead>,
    /// Switches and contacts: closed?
    pub closed: Table<Option<bool>>,
    /// In the circuit in the shown state?
    pub present: Table<bool>,
    /// The highest likelihood.
    pub most: f64,
}

impl Known {
    pub fn of(net: &Net, circuit: &Circuit, facts: &Facts<'_>) -> Self {
        let state = shown(circuit, facts.state);
        let many = net.parts.len();
        let mut known = Self {
            share: Table::filled(&0.0, many),
            look: Table::filled(&Look::Plain, many),
            closed: Table::filled(&None, many),
            present: Table::filled(&true, many),
            ..Self::default()
        };
        for cause in &facts.diagnosis.causes {
            if let Some(part) = net.part_of.get(&cause.component) {
                known.share[*part] += cause.probability.clamp(0.0, 1.0);
            }
        }
        known.most = known.share.iter().copied().fold(0.0, f64::max);
        for (place, part) in circuit.components.iter().enumerate() {
            known.closed[place] = match &part.kind {
                ComponentKind::Switch { closed_when, .. } => Some(holds(closed_when, &state)),
                ComponentKind::Contact { closed_at_rest, .. } => Some(*closed_at_rest),
                _ => None,
            };
            known.present[place] = holds(&part.present_when, &state);
        }
        known.look = proof::looks(net, circuit, facts);
        read::all(&mut known, net, circuit, facts, &state);
        if let Some(test) = circuit.tests.iter().find(|test| facts.next == Some(test.id.as_str())) {
            for (point, lead) in [(&test.red, Lead::Red), (&test.black, Lead::Black)] {
                if let Some(place) = point.as_ref().and_then(|point| net.point_of.get(point)) {
                    known.leads.insert(*place, lead);
                }
            }
        }
        known
    }

    /// Nothing read, nothing known: where things lie when nothing pushes them.
    pub fn nothing(net: &Net) -> Self {
        let many = net.parts.len();
        Self {
            share: Table::filled(&0.0, many),
            look: Table::filled(&Look::Plain, many),
            closed: Table::filled(&None, many),
            present: Table::filled(&true, many),
            ..Self::default()
        }
    }

    /// A lead, or a reading that is bad, at this point.
    pub fn matters(&self, point: usize) -> bool {
        self.leads.contains_key(&point) || self.bad.contains(&point)
    }
}

impl Judged {
    pub(crate) const fn is_bad(self) -> bool {
        matches!(self, Self::Low | Self::High)
    }
}

/// The whole state: what was left out as usual.
fn shown(circuit: &Circuit, given: &State) -> State {
    let mut state = given.clone();
    for variable in &circuit.variables {
        state.entry(variable.id.clone()).or_insert_with(|| variable.default.clone());
    }
    state
}

fn holds(conditions: &Conditions, state: &State) -> bool {
    conditions
        .iter()
        .all(|(variable, values)| state.get(variable).is_some_and(|value| values.contains(value)))
}
