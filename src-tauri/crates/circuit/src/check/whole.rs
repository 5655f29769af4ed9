//! A whole circuit file: read, checked, and every problem given its line.

use crate::check::names::Names;
use crate::check::problem::Problem;
use crate::check::{graph, healthy, hidden, labels, limits, lines, loads, parts, tests_of, usable};
use crate::error::CircuitError;
use crate::file::layout::Circuit;

impl Circuit {
    /// Reads and checks a circuit file, as far as every version of this program did: a circuit that a record froze must
    /// read for ever. What the engine couldn't compute with is refused by [`check`] and by the engine itself.
    ///
    /// # Errors
    /// [`CircuitError::Invalid`] with the first problem and how many there are in all.
    pub fn from_json(text: &str) -> Result<Self, CircuitError> {
        let circuit =
            limits::read::<Self>(text).map_err(|problem| CircuitError::Unreadable(problem.to_string()))?;
        let mut problems = circuit.contradictions();
        place_lines(text, &mut problems);
        circuit.refuse(problems)
    }

    /// Checks every name and number against the others.
    ///
    /// # Errors
    /// [`CircuitError::Invalid`] with the first problem.
    pub fn validate(&self) -> Result<(), CircuitError> {
        self.clone().refuse(self.problems()).map(|_| ())
    }

    /// Everything that is wrong in it as it stands.
    #[must_use]
    pub fn problems(&self) -> Vec<Problem> {
        let mut problems = self.contradictions();
        usable::check(self, &mut problems);
        hidden::check(self, &mut problems);
        labels::check(self, &mut problems);
        problems
    }

    /// Is it one the engine can compute with, whose healthy specimen passes its own tests? Hidden characters in its names
    /// change nothing there.
    ///
    /// # Errors
    /// [`CircuitError::Invalid`] with the first problem.
    pub(crate) fn ready(&self) -> Result<(), CircuitError> {
        let mut problems = self.contradictions();
        usable::check(self, &mut problems);
        if problems.is_empty() {
            problems = healthy::check_healthy(self);
        }
        if problems.is_empty() { Ok(()) } else { Err(self.refusal(problems)) }
    }

    /// What contradicts itself in it.
    fn contradictions(&self) -> Vec<Problem> {
        let mut problems = Vec::new();
        limits::of_circuit(self, &mut problems);
        if !problems.is_empty() {
            return problems;
        }
        let names = Names::of(self, &mut problems);
        parts::check(self, &names, &mut problems);
        loads::check(self, &names, &mut problems);
        tests_of::check(self, &names, &mut problems);
        if problems.is_empty() {
            graph::check(self, &mut problems);
        }
        problems
    }

    fn refuse(self, problems: Vec<Problem>) -> Result<Self, CircuitError> {
        if problems.is_empty() { Ok(self) } else { Err(self.refusal(problems)) }
    }

    /// The first of the problems, and how many there are besides.
    fn refusal(&self, problems: Vec<Problem>) -> CircuitError {
        let circuit = self.id.clone();
        let more = problems.len().saturating_sub(1);
        let Some(first) = problems.into_iter().next() else {
            let problem = "something is wrong in it; `circuit check` lists it".to_owned();
            return CircuitError::Invalid { circuit, place: "file".to_owned(), problem };
        };
        let line = first.line.map(|line| format!("line {line}, ")).unwrap_or_default();
        let more =
            if more == 0 { String::new() } else { format!(" ({more} more; `circuit check` lists them)") };
        CircuitError::Invalid {
            circuit,
            place: format!("{line}{}", first.place),
            problem: format!("{}. {}{more}", first.problem, first.remedy),
        }
    }
}

/// Reads a file and finds everything that is wrong in it, what a healthy circuit would show included.
///
/// # Errors
/// The problems, in the order of the file's sections; at least one.
pub fn check(text: &str) -> Result<Circuit, Vec<Problem>> {
    let circuit = limits::read::<Circuit>(text).map_err(|problem| vec![problem])?;
    let mut problems = circuit.problems();
    if problems.is_empty() {
        problems = healthy::check_healthy(&circuit);
    }
    place_lines(text, &mut problems);
    if problems.is_empty() { Ok(circuit) } else { Err(problems) }
}

/// Fills in lines: of the object a place names, or of its section.
fn place_lines(text: &str, problems: &mut [Problem]) {
    if problems.iter().all(|problem| problem.line.is_some()) {
        return;
    }
    let lines = lines::of(text);
    for problem in problems.iter_mut().filter(|problem| problem.line.is_none()) {
        let mut steps = problem.place.split('/');
        let section = steps.next().unwrap_or_default();
        let object = steps.next().map(|id| format!("{section}/{id}"));
        problem.line = object.and_then(|object| lines.get(&object)).or_else(|| lines.get(section)).copied();
    }
}
