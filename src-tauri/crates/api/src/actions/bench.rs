//! The bench: the circuit drawn with what is known of it, in the position of the key that is asked for.

use std::collections::BTreeMap;

use circuit::{Circuit, Level, State, Variable};
use drawing::{Facts, Language, Picture, Plan, UPRIGHT, WIDE};
use job::{NextStep, Reasoning};

use crate::act::Loaded;
use crate::entry::BenchEntry;
use crate::show::both;
use crate::view::{BenchPosition, BenchSwitch, BenchView};
use crate::{ApiError, Workshop};

/// What is switched where a circuit has one.
const KEY: &str = "key";

impl Workshop {
    /// A circuit of the list as it is drawn while nothing is known of it.
    ///
    /// # Errors
    /// An unknown circuit.
    pub fn circuit_picture(&self, id: &str, language: &str) -> Result<Picture, ApiError> {
        let circuit = match self.own_made(id)? {
            Some(own) => own,
            None => circuit::library::find(id)?,
        };
        Ok(Plan::of(&circuit).blank(&circuit, said(language), UPRIGHT))
    }

    /// The job's circuit with its readings, as SVG for paper; empty while none is chosen.
    pub(crate) fn paper_drawing(&self, loaded: &Loaded, language: &str) -> Result<String, ApiError> {
        let Some(found) = self.reasoning(loaded)? else { return Ok(String::new()) };
        let reasoning = &found.reasoning;
        let circuit = reasoning.circuit.as_ref();
        let facts = Facts {
            diagnosis: &reasoning.diagnosis,
            observations: &reasoning.observations,
            state: &state_of(reasoning, None),
            next: None,
        };
        Ok(drawing::paper_svg(&self.plans.of(circuit).draw(circuit, &facts, said(language), WIDE)))
    }

    /// The drawing of the job's circuit; `None` while none is chosen.
    ///
    /// # Errors
    /// An unknown job; a circuit the engine refuses.
    pub fn bench_view(&self, job: &str, entry: &BenchEntry) -> Result<Option<BenchView>, ApiError> {
        let loaded = self.load(job)?;
        let Some(found) = self.reasoning(&loaded)? else { return Ok(None) };
        let reasoning = &found.reasoning;
        let circuit = reasoning.circuit.as_ref();
        let (step, _) = NextStep::now(&loaded.job, circuit, &reasoning.diagnosis);
        let next = step.test();
        let mut state = state_of(reasoning, next);
        let switch = switched(circuit);
        if let Some(variable) = switch
            && variable.values.iter().any(|value| value.id == entry.position)
        {
            state.insert(variable.id.clone(), entry.position.clone());
        }
        let facts = Facts {
            diagnosis: &reasoning.diagnosis,
            observations: &reasoning.observations,
            state: &state,
            next,
        };
        let width = if entry.wide { WIDE } else { UPRIGHT };
        let picture = self.plans.of(circuit).draw(circuit, &facts, said(&entry.language), width);
        let switch = switch.map(|variable| shown(variable, reasoning, &state));
        Ok(Some(BenchView { picture, switch, healthy: healthy(circuit, &state) }))
    }
}

fn said(language: &str) -> Language {
    if language == "es" { Language::Spanish } else { Language::English }
}

/// The next test's state, else the newest reading's, else the usual one.
fn state_of(reasoning: &Reasoning, next: Option<&str>) -> State {
    let circuit = reasoning.circuit.as_ref();
    let test = circuit.tests.iter().find(|test| Some(test.id.as_str()) == next);
    let given =
        test.map(|test| &test.state).or_else(|| reasoning.observations.last().map(|seen| &seen.state));
    let mut state = given.cloned().unwrap_or_default();
    for variable in &circuit.variables {
        state.entry(variable.id.clone()).or_insert_with(|| variable.default.clone());
    }
    state
}

/// Volts at each point of a healthy circuit; nothing for a state without a solution, or where a point floats.
fn healthy(circuit: &Circuit, state: &State) -> BTreeMap<String, f64> {
    let solved =
        circuit::solve(circuit, state, &[], None).map(|solution| solution.points).unwrap_or_default();
    let volts = solved.into_iter().filter_map(|(point, level)| match level {
        Level::Volts(volts) => Some((point, volts)),
        _ => None,
    });
    volts.collect()
}

fn switched(circuit: &Circuit) -> Option<&Variable> {
    let many = |variable: &&Variable| variable.values.len() > 1;
    let key = circuit.variables.iter().filter(many).find(|variable| variable.id == KEY);
    key.or_else(|| circuit.variables.iter().find(many))
}

fn shown(variable: &Variable, reasoning: &Reasoning, state: &State) -> BenchSwitch {
    let taken = |id: &str| {
        let seen = reasoning.observations.iter();
        let there = seen.filter(|seen| {
            seen.red.is_some() && seen.state.get(&variable.id).unwrap_or(&variable.default) == id
        });
        u32::try_from(there.count()).unwrap_or(u32::MAX)
    };
    let position = |value: &circuit::VariableValue| BenchPosition {
        id: value.id.clone(),
        name: both(&value.name),
        readings: taken(&value.id),
    };
    BenchSwitch {
        id: variable.id.clone(),
        name: both(&variable.name),
        positions: variable.values.iter().map(position).collect(),
        shown: state.get(&variable.id).unwrap_or(&variable.default).clone(),
    }
}
