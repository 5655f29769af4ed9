//! A reading whose state nobody wrote down: every position of what is unknown counts, each with the same chance. The usual
//! position gets no more than the others: who writes `unknown` says that the usual can't be relied on.

use crate::error::CircuitError;
use crate::file::layout::Circuit;
use crate::file::observation::{Observation, State, UNKNOWN};
use crate::predict::model::Model;

/// Most states that one reading may have been taken in.
const MOST: usize = 64;
/// Stands for a column where a reading has none of its own: no test of the circuit is done by it.
pub(crate) const NO_COLUMN: usize = usize::MAX;

/// Columns of one reading with the logarithms of their chances; a single one where the state is known.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Placed {
    pub columns: Vec<(usize, f64)>,
}

impl Placed {
    /// Its column; none where it may be one of several.
    pub fn only(&self) -> usize {
        match self.columns.as_slice() {
            [(column, _)] => *column,
            _ => NO_COLUMN,
        }
    }
}

/// The columns of an observation, added where they are new.
///
/// # Errors
/// As [`Model::column_of`]; more states than can be weighed.
pub(crate) fn placed(model: &mut Model<'_>, observation: &Observation) -> Result<Placed, CircuitError> {
    let states = states_of(model.circuit(), observation)?;
    let [_] = states.as_slice() else { return in_doubt(model, observation, states) };
    Ok(Placed { columns: vec![(model.column_of(observation)?, 0.0)] })
}

/// States in which the circuit is the same one count together.
fn in_doubt(
    model: &mut Model<'_>,
    observation: &Observation,
    states: Vec<State>,
) -> Result<Placed, CircuitError> {
    let share = 1.0 / f64::from(u32::try_from(states.len()).unwrap_or(u32::MAX));
    let mut columns: Vec<(usize, f64)> = Vec::new();
    for state in states {
        let column = model.column_of(&Observation { state, ..observation.clone() })?;
        match columns.iter_mut().find(|(known, _)| model.same_circuit(*known, column)) {
            Some((_, chance)) => *chance += share,
            None => columns.push((column, share)),
        }
    }
    columns.iter_mut().for_each(|(_, chance)| *chance = chance.ln());
    Ok(Placed { columns })
}

/// Every state that the reading may have been taken in. A position that the circuit itself calls `unknown` is one of its own.
fn states_of(circuit: &Circuit, observation: &Observation) -> Result<Vec<State>, CircuitError> {
    let mut states = vec![observation.state.clone()];
    for variable in &circuit.variables {
        let unknown = observation.state.get(&variable.id).is_some_and(|value| value == UNKNOWN);
        if !unknown || variable.values.iter().any(|value| value.id == UNKNOWN) {
            continue;
        }
        if states.len() * variable.values.len() > MOST {
            let problem = format!(
                "more than {MOST} states are possible: say at least the key, or where {} was",
                variable.id
            );
            return Err(CircuitError::Observation { id: observation.id.clone(), problem });
        }
        let with = |state: &State, value: &str| {
            let mut state = state.clone();
            state.insert(variable.id.clone(), value.to_owned());
            state
        };
        let all =
            |state: &State| variable.values.iter().map(|value| with(state, &value.id)).collect::<Vec<_>>();
        states = states.iter().flat_map(all).collect();
    }
    Ok(states)
}
