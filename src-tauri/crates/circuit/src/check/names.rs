//! The names of a circuit, and whether what is named is there.

use std::collections::{BTreeMap, BTreeSet};

use crate::check::limits::MAX_NAME;
use crate::check::problem::{Problem, ProblemCode};
use crate::file::component::{Component, Conditions};
use crate::file::layout::Circuit;
use crate::file::observation::State;

pub(super) struct Names<'a> {
    pub points: BTreeSet<&'a str>,
    pub parts: BTreeMap<&'a str, &'a Component>,
    pub tests: BTreeSet<&'a str>,
    pub loads: BTreeSet<&'a str>,
    variables: BTreeMap<&'a str, BTreeSet<&'a str>>,
}

impl<'a> Names<'a> {
    /// Collects them; names used twice, and names that lead nowhere, are problems.
    pub fn of(circuit: &'a Circuit, problems: &mut Vec<Problem>) -> Self {
        let mut unique = |section: &str, ids: Vec<&'a str>| {
            let mut seen = BTreeSet::new();
            for id in ids {
                let sound = !id.is_empty() && id.len() <= MAX_NAME && !id.contains('/');
                if !sound || !seen.insert(id) {
                    let problem = format!("name {id:?} is empty, too long, holds a slash or is used twice");
                    let remedy = "Give each entry its own short name";
                    problems.push(Problem::new(
                        ProblemCode::Name,
                        &format!("{section}/{id}"),
                        problem,
                        remedy,
                    ));
                }
            }
            seen
        };
        let points = unique("points", circuit.points.iter().map(|point| point.id.as_str()).collect());
        unique("components", circuit.components.iter().map(|part| part.id.as_str()).collect());
        let tests = unique("tests", circuit.tests.iter().map(|test| test.id.as_str()).collect());
        let loads = unique("loads", circuit.loads.iter().map(|load| load.id.as_str()).collect());
        unique("variables", circuit.variables.iter().map(|variable| variable.id.as_str()).collect());
        unique("connectors", circuit.connectors.iter().map(|connector| connector.id.as_str()).collect());
        unique("modules", circuit.modules.iter().map(|module| module.id.as_str()).collect());
        let values = circuit.variables.iter().map(|variable| {
            (variable.id.as_str(), variable.values.iter().map(|value| value.id.as_str()).collect())
        });
        let parts = circuit.components.iter().map(|part| (part.id.as_str(), part)).collect();
        let names = Self { points, parts, tests, loads, variables: values.collect() };
        names.whole(circuit, problems);
        names
    }

    fn whole(&self, circuit: &Circuit, problems: &mut Vec<Problem>) {
        if circuit.format != 1 {
            let problem = format!("format {} is not known", circuit.format);
            problems.push(Problem::new(ProblemCode::Contradiction, "format", problem, "Write format 1"));
        }
        self.point("reference", &circuit.reference, problems);
        self.test("complaint", &circuit.complaint.test, problems);
        for connector in &circuit.connectors {
            for pin in &connector.pins {
                self.point(&format!("connectors/{}", connector.id), &pin.point, problems);
            }
        }
        for variable in &circuit.variables {
            let place = format!("variables/{}", variable.id);
            self.state(&place, &State::from([(variable.id.clone(), variable.default.clone())]), problems);
        }
        if !(circuit.unmodelled_odds > 0.0 && circuit.unmodelled_odds.is_finite()) {
            let remedy = "Write odds above zero, on the scale of the faults' odds";
            problems.push(Problem::new(ProblemCode::Number, "unmodelled_odds", "not above zero", remedy));
        }
    }

    fn listed(&self, there: bool, place: &str, what: &str, problems: &mut Vec<Problem>) {
        if !there {
            let remedy = "Correct the name, or add what it means to its list";
            problems.push(Problem::new(
                ProblemCode::NotListed,
                place,
                format!("{what} isn't listed"),
                remedy,
            ));
        }
    }

    pub fn point(&self, place: &str, id: &str, problems: &mut Vec<Problem>) {
        self.listed(self.points.contains(id), place, &format!("point {id:?}"), problems);
    }

    pub fn test(&self, place: &str, id: &str, problems: &mut Vec<Problem>) {
        self.listed(self.tests.contains(id), place, &format!("test {id:?}"), problems);
    }

    pub fn part(&self, place: &str, id: &str, problems: &mut Vec<Problem>) {
        self.listed(self.parts.contains_key(id), place, &format!("component {id:?}"), problems);
    }

    pub fn load(&self, place: &str, id: &str, problems: &mut Vec<Problem>) {
        self.listed(self.loads.contains(id), place, &format!("load {id:?}"), problems);
    }

    pub fn state(&self, place: &str, state: &State, problems: &mut Vec<Problem>) {
        for (variable, value) in state {
            let known = self.variables.get(variable.as_str()).is_some_and(|all| all.contains(value.as_str()));
            self.listed(known, place, &format!("state {variable} = {value}"), problems);
        }
    }

    pub fn conditions(&self, place: &str, conditions: &Conditions, problems: &mut Vec<Problem>) {
        for (variable, values) in conditions {
            for value in values {
                self.state(place, &State::from([(variable.clone(), value.clone())]), problems);
            }
        }
    }
}
