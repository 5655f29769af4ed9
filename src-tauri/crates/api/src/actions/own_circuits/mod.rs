//! The shop's own circuits, entered from a diagram. They are settings: a job that uses one freezes it into its record.

mod as_typed;
mod share;
mod typed;

use crate::entry::OwnCircuitEntry;
use crate::view::{OwnCircuitCheckView, OwnCircuitProblem, OwnCircuitRow};
use crate::{ApiError, Workshop, settings, show};
use circuit::entered::Entered;
use circuit::{Circuit, Problem, State};
use serde::{Deserialize, Serialize};

const SETTING: &str = "own_circuits";
/// The form of a circuit that is being entered; it belongs to no job.
const FORM: &str = "own_circuit";
/// Circuits a shop may keep: beyond, the settings' file would slow every setting down.
const MOST: usize = 200;

/// A kept circuit.
#[derive(Clone, Debug, Serialize, Deserialize)]
struct OwnCircuit {
    id: String,
    kept: String,
    entered: Entered,
}

impl Workshop {
    /// The shop's own circuits, by title.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn own_circuits(&self) -> Result<Vec<OwnCircuitRow>, ApiError> {
        let mut rows: Vec<OwnCircuitRow> = self.own()?.iter().map(row).collect();
        rows.sort_by(|a, b| a.title.cmp(&b.title).then(a.id.cmp(&b.id)));
        Ok(rows)
    }

    /// A kept circuit as it was typed, to be changed or looked at.
    ///
    /// # Errors
    /// An unknown id.
    pub fn own_circuit_view(&self, id: &str) -> Result<OwnCircuitEntry, ApiError> {
        Ok(as_typed::entry(&self.own_circuit(id)?.entered))
    }

    /// Checks a circuit while it is being entered; nothing is kept. `state` are the positions to solve it in; what it
    /// leaves out, or names wrongly, is in its usual position.
    pub fn own_circuit_check(&self, entry: &OwnCircuitEntry, state: &State) -> OwnCircuitCheckView {
        match whole(entry) {
            Err(problems) => OwnCircuitCheckView {
                problems: problems.iter().map(problem).collect(),
                circuit: None,
                state: State::new(),
                steady: true,
            },
            Ok((_, circuit)) => {
                let state = in_state(&circuit, state);
                let solution = circuit::solve(&circuit, &state, &[], None);
                OwnCircuitCheckView {
                    problems: Vec::new(),
                    circuit: Some(show::bare_circuit(&circuit, &state)),
                    state,
                    steady: solution.is_ok_and(|solution| solution.steady),
                }
            }
        }
    }

    /// Keeps a whole circuit. `id` is empty for a new one; with one that was taken out of the list it comes back.
    ///
    /// # Errors
    /// Something in it is wrong (the check names it); too many circuits; an id that can't be.
    pub fn own_circuit_keep(
        &self,
        id: &str,
        entry: &OwnCircuitEntry,
    ) -> Result<Vec<OwnCircuitRow>, ApiError> {
        let (entered, _) = whole(entry).map_err(|_| ApiError::refused("circuit_not_whole"))?;
        let id = if id.is_empty() { crate::actions::shop::new_id("own")? } else { known_form(id)? };
        let mut all = self.own()?;
        all.retain(|own| own.id != id);
        if all.len() >= MOST {
            return Err(ApiError::refused("too_many_circuits"));
        }
        all.push(OwnCircuit { id, kept: self.clock.moment().wall, entered });
        self.keep_own(&all)?;
        self.store.drop_draft("", FORM)?;
        self.own_circuits()
    }

    /// Takes a circuit out of the list. Jobs that used it keep it.
    ///
    /// # Errors
    /// An unknown id.
    pub fn own_circuit_remove(&self, id: &str) -> Result<Vec<OwnCircuitRow>, ApiError> {
        self.own_circuit(id)?;
        let mut all = self.own()?;
        all.retain(|own| own.id != id);
        self.keep_own(&all)?;
        self.own_circuits()
    }

    /// The circuit made from a kept entry; `None` when the id is no own circuit's.
    pub(crate) fn own_made(&self, id: &str) -> Result<Option<Circuit>, ApiError> {
        let Some(own) = self.own()?.into_iter().find(|own| own.id == id) else { return Ok(None) };
        let refused = |_| ApiError::refused("circuit_not_whole");
        let circuit = own.entered.into_circuit().map_err(refused)?;
        Ok(Some(Circuit { id: own.id, ..circuit }))
    }

    fn own_circuit(&self, id: &str) -> Result<OwnCircuit, ApiError> {
        let found = self.own()?.into_iter().find(|own| own.id == id);
        found.ok_or_else(|| ApiError::Unknown { what: "circuit", value: id.to_owned() })
    }

    fn own(&self) -> Result<Vec<OwnCircuit>, ApiError> {
        let Some(value) = self.store.setting(SETTING)? else { return Ok(Vec::new()) };
        settings::read(SETTING, value)
    }

    fn keep_own(&self, all: &[OwnCircuit]) -> Result<(), ApiError> {
        Ok(self.store.set_setting(SETTING, &settings::written(SETTING, &all)?)?)
    }
}

/// The entry as the engine knows it, and the circuit made from it.
fn whole(entry: &OwnCircuitEntry) -> Result<(Entered, Circuit), Vec<Problem>> {
    let entered = typed::entered(entry)?;
    let circuit = entered.clone().into_circuit()?;
    Ok((entered, circuit))
}

/// Every variable in a position it has.
fn in_state(circuit: &Circuit, asked: &State) -> State {
    let position = |variable: &circuit::Variable| {
        let asked = asked.get(&variable.id).filter(|id| variable.values.iter().any(|value| value.id == **id));
        (variable.id.clone(), asked.unwrap_or(&variable.default).clone())
    };
    circuit.variables.iter().map(position).collect()
}

/// An id of the form that [`crate::actions::shop::new_id`] makes.
fn known_form(id: &str) -> Result<String, ApiError> {
    let hex = id.strip_prefix("own-").filter(|hex| hex.len() == 12);
    let sound = hex.is_some_and(|hex| hex.bytes().all(|b| b.is_ascii_hexdigit() && !b.is_ascii_uppercase()));
    if sound { Ok(id.to_owned()) } else { Err(ApiError::Unknown { what: "circuit", value: id.to_owned() }) }
}

fn row(own: &OwnCircuit) -> OwnCircuitRow {
    OwnCircuitRow {
        id: own.id.clone(),
        title: own.entered.title.clone(),
        complaint: own.entered.complaint.clone(),
        source: own.entered.source.clone(),
        parts: u32::try_from(own.entered.parts.len()).unwrap_or(u32::MAX),
        kept: own.kept.clone(),
    }
}

/// The screen's fields lie one step higher than the engine's; a bus is two fields of a module.
fn on_screen(place: &str) -> String {
    let place = place.replace("/kind/ohms_25", "/ohms").replace("/kind/", "/");
    let place = place.replace("/can/", "/can_");
    // An output names one input on the screen.
    match place.rsplit_once("/asked_by/") {
        Some((output, number)) if number.bytes().all(|byte| byte.is_ascii_digit()) => {
            format!("{output}/asked_by")
        }
        _ => place,
    }
}

fn problem(problem: &Problem) -> OwnCircuitProblem {
    OwnCircuitProblem {
        place: on_screen(&problem.place),
        code: show::code(&problem.code),
        detail: format!("{}. {}", problem.problem, problem.remedy),
    }
}
